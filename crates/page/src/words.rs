//! The page's own words, a file for each part, so that another language is a change in one place.
//! What both shells tell is in the crate `paper`.

pub mod bycatch;
pub mod curve;
pub mod demos;
pub mod field;
pub mod files;
pub mod futures;
pub mod jobs;
pub mod limiting;
pub mod link;
pub mod meaning;
pub mod mistakes;
pub mod numbers;
pub mod page;
pub mod parts;
pub mod places;
pub mod reading;
pub mod search_ways;
pub mod several;
pub mod shared;
pub mod show;
pub mod steps;
pub mod strip;
pub mod undo;
pub mod ways;
pub mod workers;
