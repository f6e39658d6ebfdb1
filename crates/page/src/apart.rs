//! What is not needed at first comes in a file of its own, so that the page is sooner there.
//!
//! The compiler's output is cut in two (`xtask::split`): what only the function of [`fetch`] reaches goes into the second
//! file.

use crate::demos::DEMOS;
use crate::state::Model;
use crate::views::apart::draw;
use crate::views::files::{learn, own, take};
use crate::views::question::ask;
use engine::scenario::Checked;
use engine::{Job, Kind, Refusal};
use leptos::prelude::AnyView;
use leptos::wasm_split::{SplitLoaderError, wasm_split};
use paper::meaning::{Meaning, of_field, of_result};

pub use crate::views::apart::Part;

/// What the file holds.
pub struct Rest {
    /// Draws a part.
    pub draw: fn(Part, Model) -> AnyView,
    /// Begins a job of any kind.
    pub begin: Begin,
    /// Takes the text of a scenario (a file's name, the text, the step's name); whether it was taken.
    pub take: fn(Model, &str, &str, &str) -> bool,
    /// Puts the premises of pilot catches (a file's name and bytes) into the scenario and says what the table told.
    pub learn: fn(Model, &str, &[u8]),
    /// Makes the scenario one of the user's own, without inventions.
    pub own: fn(Model),
    /// Asks another question, by its key.
    pub ask: fn(Model, &'static str),
    /// What a result means, by its key.
    pub meaning_of_result: fn(&str) -> Option<&'static Meaning>,
    /// What a number of the scenario means, by its path.
    pub meaning_of_field: fn(&str) -> Option<&'static Meaning>,
    /// Name and text of each demo.
    pub demos: &'static [(&'static str, &'static str)],
}

/// Begins a job; as [`Job::new`].
pub type Begin = fn(Checked, Kind, Option<u64>) -> Result<Job, Refusal>;

static REST: Rest = Rest {
    draw,
    begin: Job::new,
    take,
    learn,
    own,
    ask,
    meaning_of_result: of_result,
    meaning_of_field: of_field,
    demos: &DEMOS,
};

/// The file did not come.
pub struct Missing;

impl From<SplitLoaderError> for Missing {
    fn from(_: SplitLoaderError) -> Self {
        Self
    }
}

/// Loads the file.
///
/// # Errors
/// When it cannot be loaded; the next call tries again.
#[wasm_split(apart, wasm_split_path = leptos::wasm_split, fallible)]
pub fn fetch() -> Result<&'static Rest, Missing> {
    Ok(&REST)
}
