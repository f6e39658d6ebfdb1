//! What every picture can do, so that a page shows, saves and reads each in the same way.

use crate::{
    Calendar, HeatMap, Hundred, LineChart, PairedPanels, ShareBars, SmallMultiples, StackedBars,
    StoppingLines, Table, Tradeoff, VisitsGrid,
};

/// A picture.
pub trait Figure: Clone {
    /// Sets its width in pixels, and whether its title is drawn.
    fn shown(&mut self, width: f64, titled: bool);
    /// The picture with its own style sheet: stands alone as a file.
    fn file(&self) -> String;
    /// The picture without style sheet, for a page that carries it once.
    fn inline(&self) -> String;
    /// Its numbers, for reading.
    fn numbers(&self) -> Table;
    /// Its numbers, for a spreadsheet.
    fn sheet(&self) -> String {
        self.numbers().csv()
    }
}

macro_rules! figure {
    ($($name:ident $($sheet:ident)?),* $(,)?) => {
        $(impl Figure for $name {
            fn shown(&mut self, width: f64, titled: bool) {
                (self.width, self.show_title) = (width, titled);
            }

            fn file(&self) -> String {
                self.svg()
            }

            fn inline(&self) -> String {
                self.svg_unstyled()
            }

            fn numbers(&self) -> Table {
                self.table()
            }

            $(fn sheet(&self) -> String {
                self.$sheet()
            })?
        })*
    };
}

figure!(
    Calendar csv,
    HeatMap,
    Hundred,
    LineChart csv,
    PairedPanels csv,
    ShareBars,
    SmallMultiples,
    StackedBars,
    StoppingLines,
    Tradeoff,
    VisitsGrid,
);
