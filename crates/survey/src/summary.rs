//! From replicates to what is told: power, false alarms, smallest change, toll.

mod answer;
mod calibration;
mod curve;
mod foreseen;
mod interval;
mod judge;
mod looks;
mod occupied;
mod p_values;
mod range_shift;
mod reproductives;
mod several;
mod share;
mod significant;
mod standing;
mod toll;

pub use answer::{
    Answer, Comparison, Evidence, Fits, NoWorse, PreviewAnswer, SmallestChange, TestTold, stamps,
    summarise, summarise_foreseen,
};
pub use calibration::{Calibration, nulls_needed};
pub use curve::{Curve, Point};
pub use foreseen::{Foreseen, foresee};
pub use looks::{
    FixedPlan, GroupSpared, LookTold, LooksAnswer, LooksToll, LooksWorld, NaiveLooks, ShownCourse,
    SimulatedStops, Spared, analysed_years, looks_answer,
};
pub use occupied::{OccupancyTold, Split};
pub use range_shift::{PlacedPlan, RangeShiftTold};
pub use reproductives::{ReproductiveToll, ReproductivesOfGroup};
pub use several::{MeanNumber, OneSpecies, OverList, Several, Species, several};
pub use share::Share;
pub use significant::Significant;
pub use standing::{Standing, standing};
pub use toll::{GroupToll, Spread, StillToll, Toll, YearToll};
