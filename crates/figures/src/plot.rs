//! The frame that pictures with one panel share: sizes, title, heights with their grid, places below, names of axes.

use crate::marks::segment;
use crate::number::tick;
use crate::scale::Linear;
use crate::svg::{Element, Writer};
use crate::ticks::Ticks;
use crate::words::{width, wrap_bold};

/// Room about the picture.
pub(crate) const PAD: f64 = 12.0;
/// Height of a line of words.
pub(crate) const LINE: f64 = 16.0;
/// Height of a line of the title.
pub(crate) const TITLE_LINE: f64 = 20.0;
/// Room below the panel for places and the name of their axis.
pub(crate) const BELOW: f64 = PAD + 26.0 + LINE;

/// A width or height in whole pixels, at least `least` and at most 4000; `usual` where it is none.
pub(crate) fn pixels(value: f64, usual: f64, least: f64) -> f64 {
    let sound = if value.is_finite() { value } else { usual };
    sound.clamp(least, 4000.0).round()
}

/// The title in lines; none when it is not drawn.
pub(crate) fn title_lines(shown: bool, title: &str, full: f64) -> Vec<String> {
    if shown {
        wrap_bold(title, 15.0, full - 2.0 * PAD)
    } else {
        Vec::new()
    }
}

/// Draws the title at the top.
pub(crate) fn draw_title(writer: &mut Writer, lines: &[String]) {
    for (i, line) in lines.iter().enumerate() {
        let y = PAD + 14.0 + TITLE_LINE * i as f64;
        writer.text(words(PAD, y, "fg-title"), line);
    }
}

/// Words at a place.
pub(crate) fn words(x: f64, y: f64, class: &str) -> Element {
    Element::new("text").at("x", x).at("y", y).class(class)
}

/// A place that can be pointed at, or gone to by key, and what it tells.
pub(crate) fn spot(writer: &mut Writer, told: &str, place: Element) {
    writer.open(Element::new("g").class("fg-spot"));
    writer.text(Element::new("title"), told);
    writer.empty(place.class("fg-hit"));
    writer.close();
}

/// The ticks with their words.
pub(crate) fn labelled(ticks: &Ticks) -> Vec<(f64, String)> {
    let of = |&v: &f64| (v, tick(v, ticks.step, ticks.decimals));
    ticks.values.iter().map(of).collect()
}

/// Width of the widest of some labels, at least 24.
pub(crate) fn widest(labels: &[(f64, String)]) -> f64 {
    let widths = labels.iter().map(|(_, text)| width(text, 12.0));
    widths.fold(24.0, f64::max)
}

/// The sides of the panel.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Panel {
    pub left: f64,
    pub right: f64,
    pub top: f64,
    pub bottom: f64,
}

impl Panel {
    /// A grid line and its label at each height; the one at 0 is the axis.
    pub fn heights(&self, writer: &mut Writer, y: &Linear, labels: &[(f64, String)]) {
        for (value, text) in labels {
            let at = y.at(*value);
            let class = if *value == 0.0 { "fg-axis" } else { "fg-grid" };
            writer.empty(segment((self.left, at), (self.right, at)).class(class));
            writer.text(words(self.left - 7.0, at + 4.0, "fg-text fg-end"), text);
        }
    }

    /// A stroke and its label at each place.
    pub fn places(&self, writer: &mut Writer, x: &Linear, labels: &[(f64, String)]) {
        for (value, text) in labels {
            let at = x.at(*value);
            let stroke = segment((at, self.bottom), (at, self.bottom + 5.0));
            writer.empty(stroke.class("fg-axis"));
            writer.text(words(at, self.bottom + 19.0, "fg-text fg-middle"), text);
        }
    }

    /// The name of the axis below.
    pub fn name_below(&self, writer: &mut Writer, name: &str) {
        let middle = (self.left + self.right) / 2.0;
        let y = self.bottom + 26.0 + 12.0;
        writer.text(words(middle, y, "fg-label fg-middle"), name);
    }
}
