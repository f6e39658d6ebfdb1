//! The species inventory: what a pilot tells of its community, and what further trapping would add.

mod pilot;
mod report;

pub use pilot::{Pilot, PilotError};
pub use report::{
    Allocated, CurvePoint, Estimated, Form, Gained, Reached, Report, USUAL_FURTHER, report,
};
