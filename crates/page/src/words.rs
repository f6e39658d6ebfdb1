//! The page's own words, a file for each part, so that another language is a change in one place.
//! What both shells tell is in the crate `paper`.

pub mod futures;
pub mod limiting;
pub mod link;
pub mod meaning;
pub mod mistakes;
pub mod page;
pub mod parts;
pub mod places;
pub mod reading;
pub mod search_ways;
pub mod show;
pub mod steps;
pub mod typed;
pub mod undo;
pub mod ways;
