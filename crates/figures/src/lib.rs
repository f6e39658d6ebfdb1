//! Pictures as SVG strings with title, description and table.
//!
//! A figure is a plain value: series, columns, labels. It gives an SVG string that stands alone
//! (its own colours for light, dark and print), the same numbers as a [`Table`], and as CSV.
//!
//! **Invariant.** This crate knows nothing of surveys, statistics, files, clock or browser. A
//! number that is not finite never reaches a picture: nothing is drawn there and the table says so.

pub mod calendar;
pub mod count_bars;
mod document;
pub mod heat_map;
pub mod hundred;
pub mod interim;
mod legend;
pub mod line_chart;
pub mod locale;
mod marks;
pub mod multiples;
pub mod number;
pub mod paired;
mod plot;
pub mod scale;
pub mod share_bars;
pub mod stacked;
pub mod stopping;
pub mod svg;
pub mod table;
pub mod theme;
pub mod ticks;
pub mod tradeoff;
pub mod visits_grid;
pub mod words;

#[cfg(test)]
mod xml_check;

pub use calendar::{Calendar, WeekPanel};
pub use count_bars::{CountBar, CountBars, CountSection};
pub use heat_map::{HeatCell, HeatMap};
pub use hundred::{Hundred, in_a_hundred};
pub use interim::InterimLines;
pub use line_chart::{LineChart, Trace};
pub use multiples::{Panel, Row, Shape, SmallMultiples};
pub use paired::{Column, Group, Line, LineStyle, PairedPanels, Point, Rule, Spread};
pub use share_bars::{ShareBar, ShareBars};
pub use stacked::StackedBars;
pub use stopping::StoppingLines;
pub use table::Table;
pub use theme::stylesheet;
pub use tradeoff::{Choice, Tradeoff};
pub use visits_grid::{Visits, VisitsGrid};
