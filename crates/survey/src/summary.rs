//! From replicates to what is told: power, false alarms, smallest change, toll.

mod answer;
mod curve;
mod share;
mod significant;
mod standing;
mod toll;

pub use answer::{Answer, Comparison, Fits, PreviewAnswer, SmallestChange, summarise};
pub use curve::{Curve, Point};
pub use share::Share;
pub use significant::Significant;
pub use standing::{Standing, standing};
pub use toll::{GroupToll, Spread, StillToll, Toll, YearToll};
