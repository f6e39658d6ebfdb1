//! What the page holds and says, apart from any browser: how it stands, its steps back and forth, links, demos and words.
//!
//! Apart from the page, so that it is tested without the page's library, which takes minutes to compile.
//! Architecture invariant: no statistics here, and no browser.

mod changes;
pub mod demos;
mod fields;
mod file_kind;
mod history;
pub mod link;
mod lists;
mod stand;
mod way;
pub mod words;

pub use changes::{Change, between};
pub use fields::has_field;
pub use file_kind::{FileKind, file_kind};
pub use history::{History, MOST as MOST_STEPS};
pub use lists::{listed, numbers, one_or_none};
pub use stand::{Mark, Marks, Stand, axis, keep, kept, marks_without};
pub use way::Way;
