//! One file for each part of the page.

pub mod binding;
pub mod bycatch;
pub mod curve;
pub mod departures;
pub mod field;
pub mod files;
pub mod frame;
pub mod futures;
pub mod ignoring;
pub mod inventory;
pub mod least;
pub mod method;
pub mod notice;
pub mod others;
pub mod plan;
pub mod premises;
pub mod question;
pub mod revisit;
pub mod several;
pub mod stop_lines;
pub mod strip;
pub mod toll;
