//! The page's own words, a file for each part, so that another language is a change in one place.
//! What both shells tell is in the crate `paper`.

pub mod futures;
pub mod link;
pub mod page;
pub mod parts;
pub mod show;
pub mod steps;
pub mod undo;
pub mod ways;
