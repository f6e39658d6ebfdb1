//! The page's own words, a file for each part, so that another language is a change in one place.
//! What both shells tell is in the crate `paper`.

pub mod bycatch;
pub mod cost;
pub mod curve;
pub mod demos;
pub mod field;
pub mod files;
pub mod futures;
pub mod jobs;
pub mod least;
pub mod limiting;
pub mod limits;
pub mod link;
pub mod looks;
pub mod meaning;
pub mod mistakes;
pub mod numbers;
pub mod page;
pub mod parts;
pub mod places;
pub mod reading;
pub mod revisit;
pub mod search_ways;
pub mod season;
pub mod several;
pub mod shared;
pub mod show;
pub mod steps;
pub mod strip;
pub mod undo;
pub mod ways;
pub mod workers;
