//! Two aligned panels over one x axis: shares of one above, stacked bars beneath.
//!
//! Above, lines between 0 and 100% with an interval at each point and labelled horizontal rules;
//! beneath, one stacked bar per x with a whisker on the total, on an axis of its own that starts at 0.
//! One x may be highlighted through both panels.

mod axes;
mod frame;
mod lines;
mod lower;
mod numbers;
mod upper;

use crate::document::Document;
use crate::marks::patterns;
use crate::svg::safe_id;
use crate::table::Table;
use frame::Frame;

/// How a line is drawn; each style differs in dash and marker as well as in colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LineStyle {
    /// Solid, full discs.
    Main,
    /// Dashed, open diamonds.
    Second,
    /// Faint and dotted; an open ring where the main line has no value (yet).
    Preview,
}

/// How the intervals of a line are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Spread {
    /// A vertical whisker at each point.
    #[default]
    Bars,
    /// A shaded band along the line.
    Band,
}

/// A line of the upper panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Name in legend, table and CSV.
    pub label: String,
    /// How it is drawn.
    pub style: LineStyle,
    /// How its intervals are drawn.
    pub spread: Spread,
    /// Its points, in any order. The line is interrupted at a point whose `y` is not finite.
    pub points: Vec<Point>,
}

/// A point of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Position on the shared axis.
    pub x: f64,
    /// A share between 0 and 1; not finite where there is none (yet). Drawn at 0 or 1 if outside.
    pub y: f64,
    /// Lower end of the interval, a share between 0 and 1.
    pub low: Option<f64>,
    /// Upper end of the interval, a share between 0 and 1.
    pub high: Option<f64>,
}

/// A horizontal reference line of the upper panel, such as a target.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// What it stands for; the figure adds the percentage.
    pub label: String,
    /// A share between 0 and 1.
    pub y: f64,
}

/// A group: one segment in each bar.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Group {
    /// Name in legend, table and CSV.
    pub label: String,
}

/// A stacked bar of the lower panel. It is left out if a part is missing, negative or not finite.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Position on the shared axis.
    pub x: f64,
    /// Sizes from the bottom up, in the order of the groups.
    pub parts: Vec<f64>,
    /// Lower end of the interval of the total; no whisker if not finite.
    pub low: f64,
    /// Upper end of the interval of the total; no whisker if not finite.
    pub high: f64,
}

/// The figure: see the [module](self).
#[derive(Debug, Clone, PartialEq)]
pub struct PairedPanels {
    /// Begins every id in the picture: give each figure of a page its own.
    pub id: String,
    /// Title: the accessible name and, if `show_title`, the visible heading.
    pub title: String,
    /// Whether the title is also drawn; not needed under a heading of the page.
    pub show_title: bool,
    /// What the picture shows, in words, for those who do not see it.
    pub description: String,
    /// Name of the shared axis.
    pub x_label: String,
    /// Name of the upper panel.
    pub upper_label: String,
    /// Name of the lower panel, with its unit.
    pub lower_label: String,
    /// Name of the total of a bar and its interval, such as `all animals, 90% range`.
    pub total_label: String,
    /// Lines of the upper panel; at most one of each style is told apart by looks.
    pub lines: Vec<Line>,
    /// Reference lines of the upper panel.
    pub rules: Vec<Rule>,
    /// Bars of the lower panel.
    pub columns: Vec<Column>,
    /// Groups of the bars.
    pub groups: Vec<Group>,
    /// The x to be highlighted and its label.
    pub highlight: Option<(f64, String)>,
    /// Width in pixels; good from 340 to 1100 and kept between 280 and 4000.
    pub width: f64,
    /// Height in pixels; becomes larger where labels and legends would leave too little for the panels.
    pub height: f64,
}

impl PairedPanels {
    /// The picture with its own style sheet: stands alone as a file.
    pub fn svg(&self) -> String {
        self.draw(true)
    }

    /// The picture without the style sheet, for a page that carries [`stylesheet`] once.
    pub fn svg_unstyled(&self) -> String {
        self.draw(false)
    }

    /// The numbers of the picture, for reading.
    pub fn table(&self) -> Table {
        numbers::for_reading(self)
    }

    /// The numbers of the picture as CSV: shares between 0 and 1, an empty cell where there is no number.
    pub fn csv(&self) -> String {
        numbers::for_machines(self).csv()
    }

    /// Pixel positions of the x values, to lay interaction over the picture: (x, pixels from its left edge).
    pub fn positions(&self) -> Vec<(f64, f64)> {
        let frame = Frame::plan(self);
        self.all_x()
            .into_iter()
            .map(|x| (x, frame.x.at(x)))
            .collect()
    }

    fn draw(&self, styled: bool) -> String {
        let id = safe_id(&self.id);
        let frame = Frame::plan(self);
        let document = Document {
            id: &id,
            title: &self.title,
            description: &self.description,
            width: frame.width,
            height: frame.height,
            styled,
        };
        let mut writer = document.open(|w| patterns(w, &id, self.groups.len()));
        axes::draw_titles(&mut writer, &frame);
        axes::draw_highlight(&mut writer, &frame);
        axes::draw_axes(&mut writer, &frame, self);
        upper::draw(&mut writer, &frame, self);
        lower::draw(&mut writer, &frame, self, &id);
        frame
            .upper
            .legend
            .draw(&mut writer, frame.upper.legend_top, &id);
        frame
            .lower
            .legend
            .draw(&mut writer, frame.lower.legend_top, &id);
        writer.finish()
    }

    /// Every x of lines and columns, increasing, each once.
    fn all_x(&self) -> Vec<f64> {
        let points = self
            .lines
            .iter()
            .flat_map(|line| line.points.iter().map(|point| point.x));
        // Adding zero makes -0 and 0 one position.
        let mut all: Vec<f64> = points
            .chain(self.columns.iter().map(|c| c.x))
            .filter(|x| x.is_finite())
            .map(|x| x + 0.0)
            .collect();
        all.sort_by(f64::total_cmp);
        all.dedup();
        all
    }
}

impl Point {
    /// Both ends of the interval, if they and the value itself are finite.
    fn interval(&self) -> Option<(f64, f64)> {
        let (low, high) = (self.low?, self.high?);
        (self.y.is_finite() && low.is_finite() && high.is_finite()).then_some((low, high))
    }
}

impl Column {
    /// The sum of the parts, if there is a sound part for each of `groups` groups.
    fn total(&self, groups: usize) -> Option<f64> {
        let sound = self.parts.len() == groups
            && self
                .parts
                .iter()
                .all(|part| part.is_finite() && *part >= 0.0);
        let total: f64 = self.parts.iter().sum();
        (sound && total.is_finite()).then_some(total)
    }

    /// Both ends of the interval of the total, if both are finite.
    fn interval(&self) -> Option<(f64, f64)> {
        (self.low.is_finite() && self.high.is_finite())
            .then_some((self.low.max(0.0), self.high.max(0.0)))
    }
}

#[cfg(test)]
#[path = "paired/tests.rs"]
mod tests;
