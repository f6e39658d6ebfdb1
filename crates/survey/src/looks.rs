//! Planned looks at a survey: the lines of its interim analyses, and what they come to by closed form.
//!
//! The statistics of the looks are estimates over their standard errors. With I = 1/se^2 of the estimate after so many
//! years, each is normal about effect times sqrt(I), and estimates of the same survey after fewer and more years have
//! independent increments, whether the effect is there at once or grows with the years (Jennison & Turnbull 2000, Group
//! Sequential Methods, section 11.3: the estimates are (nearly) efficient). So the share of information at a look is the
//! variance of the estimate after all years over that after the look's, both by [closed form](crate::closed_form).
//!
//! With few years a standard error is known badly: at each look the line is moved to Student's t with that look's degrees
//! of freedom by equal tails (z to p to t). That keeps the chance of each look alone; that the looks together keep the
//! level is checked by simulation ([`crate::summary::LooksAnswer`]).

mod expected;
mod plan;
mod preview;

pub use expected::{cumulated, expected_by_end};
pub(crate) use plan::after;
pub use plan::{LookLines, LooksPlan, Trouble, looks_plan};
pub use preview::{LooksPreview, Stops, WorldPreview, looks_preview};
