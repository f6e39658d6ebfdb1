//! A hundred marks, each one survey in a hundred: how many come to what.
//!
//! Kinds differ in shape as well as in colour, so that the picture does not hang on colour.

use crate::document::Document;
use crate::marks::{circle, segment};
use crate::multiples::Shape;
use crate::plot::{PAD, TITLE_LINE, draw_title, pixels, title_lines, words};
use crate::svg::{Writer, safe_id};
use crate::table::Table;
use crate::words::width;

/// What some of the hundred come to.
#[derive(Debug, Clone, PartialEq)]
pub struct Kind {
    /// Its name in legend and table.
    pub label: String,
    /// Its share, between 0 and 1.
    pub share: f64,
    /// Shape of its marks.
    pub shape: Shape,
}

/// The figure: see the [module](self).
#[derive(Debug, Clone, PartialEq)]
pub struct Hundred {
    /// Begins every id in the picture.
    pub id: String,
    /// Title: the accessible name and, if `show_title`, the visible heading.
    pub title: String,
    /// Whether the title is also drawn.
    pub show_title: bool,
    /// What the picture shows, in words.
    pub description: String,
    /// Kinds in the order in which they are drawn.
    pub kinds: Vec<Kind>,
    /// Width in pixels; good from 300 to 1400.
    pub width: f64,
}

const LEGEND: f64 = 26.0;

/// Whole numbers that add up to 100, each as near to its share as can be (largest remainders); nothing where the shares
/// are none.
pub fn in_a_hundred(shares: &[f64]) -> Vec<u32> {
    let sum: f64 = shares.iter().filter(|s| s.is_finite()).sum();
    if sum <= 0.0 {
        return vec![0; shares.len()];
    }
    let exact: Vec<f64> = shares
        .iter()
        .map(|s| {
            if s.is_finite() {
                100.0 * s.max(0.0) / sum
            } else {
                0.0
            }
        })
        .collect();
    let mut whole: Vec<u32> = exact.iter().map(|e| *e as u32).collect();
    let mut order: Vec<usize> = (0..exact.len()).collect();
    order.sort_by(|&a, &b| exact[b].fract().total_cmp(&exact[a].fract()));
    let left = 100_u32.saturating_sub(whole.iter().sum());
    for &i in order.iter().cycle().take(left as usize) {
        whole[i] += 1;
    }
    whole
}

impl Hundred {
    /// The picture with its own style sheet: stands alone as a file.
    pub fn svg(&self) -> String {
        self.draw(true)
    }

    /// The picture without the style sheet, for a page that carries it once.
    pub fn svg_unstyled(&self) -> String {
        self.draw(false)
    }

    /// The numbers of the picture.
    pub fn table(&self) -> Table {
        let counts = self.counts();
        let rows = self.kinds.iter().zip(counts);
        Table {
            caption: self.title.clone(),
            headers: vec!["of 100 surveys".into(), "number".into()],
            rows: rows
                .map(|(k, n)| vec![k.label.clone(), n.to_string()])
                .collect(),
        }
    }

    fn counts(&self) -> Vec<u32> {
        let shares: Vec<f64> = self.kinds.iter().map(|k| k.share).collect();
        in_a_hundred(&shares)
    }

    fn draw(&self, styled: bool) -> String {
        let id = safe_id(&self.id);
        let full = pixels(self.width, 760.0, 280.0);
        let title = title_lines(self.show_title, &self.title, full);
        let across = if full >= 560.0 { 20 } else { 10 };
        let step = (full - 2.0 * PAD) / f64::from(across);
        let step = step.min(52.0);
        let counts = self.counts();
        let labels: Vec<String> = self
            .kinds
            .iter()
            .zip(&counts)
            .map(|(k, n)| format!("{n} {}", k.label))
            .collect();
        // The legend takes as many lines as it needs.
        let mut places = Vec::new();
        let (mut x, mut line) = (PAD, 0.0);
        for label in &labels {
            let wide = 40.0 + 1.25 * width(label, 12.0);
            if x > PAD && x + wide > full - PAD {
                (x, line) = (PAD, line + 1.0);
            }
            places.push((x, line));
            x += wide;
        }
        let top = PAD + TITLE_LINE * title.len() as f64;
        let below = top + step * f64::from(100 / across);
        let document = Document {
            id: &id,
            title: &self.title,
            description: &self.description,
            width: full,
            height: below + LEGEND * (line + 1.0) + PAD,
            styled,
        };
        let mut w = document.open(|_| ());
        draw_title(&mut w, &title);
        let shapes = self.kinds.iter().zip(&counts);
        let shapes = shapes.flat_map(|(k, &n)| std::iter::repeat_n(k.shape, n as usize));
        for (i, shape) in shapes.enumerate() {
            let (column, row) = (i as u32 % across, i as u32 / across);
            let x = PAD + step * (f64::from(column) + 0.5);
            let y = top + step * (f64::from(row) + 0.5);
            mark(&mut w, shape, (x, y), 0.3 * step);
        }
        for ((kind, label), (x, line)) in self.kinds.iter().zip(&labels).zip(places) {
            let y = below + LEGEND * line + 14.0;
            mark(&mut w, kind.shape, (x + 8.0, y), 7.0);
            w.text(words(x + 22.0, y + 5.0, "fg-large"), label);
        }
        w.finish()
    }
}

fn mark(w: &mut Writer, shape: Shape, (x, y): (f64, f64), r: f64) {
    match shape {
        Shape::Disc => w.empty(circle(x, y, r).class("fg-main-dot")),
        Shape::Ring => w.empty(circle(x, y, 0.9 * r).class("fg-preview-dot")),
        Shape::Cross => {
            for (a, b) in [(-1.0, 1.0), (1.0, -1.0)] {
                let from = (x + 0.8 * r * a, y - 0.8 * r);
                let to = (x + 0.8 * r * b, y + 0.8 * r);
                w.empty(segment(from, to).class("fg-cross"));
            }
        }
        Shape::Bar => w.empty(segment((x - 0.8 * r, y), (x + 0.8 * r, y)).class("fg-rule")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::xml_check::check;

    fn figure() -> Hundred {
        let kind = |label: &str, share, shape| Kind {
            label: label.into(),
            share,
            shape,
        };
        Hundred {
            id: "hundred".into(),
            title: "Of 100 surveys".into(),
            show_title: true,
            description: "75 find it.".into(),
            kinds: vec![
                kind("found", 0.749, Shape::Disc),
                kind("missed <&>", 0.246, Shape::Ring),
                kind("wrong way", 0.005, Shape::Cross),
            ],
            width: 900.0,
        }
    }

    #[test]
    fn numbers_add_up_to_a_hundred() {
        assert_eq!(in_a_hundred(&[0.749, 0.246, 0.005]), [75, 25, 0]);
        assert_eq!(in_a_hundred(&[1.0, 1.0, 1.0]), [34, 33, 33]);
        assert_eq!(in_a_hundred(&[0.333, 0.667]), [33, 67]);
        assert_eq!(in_a_hundred(&[f64::NAN, 1.0]), [0, 100]);
        assert_eq!(in_a_hundred(&[0.0, 0.0]), [0, 0]);
    }

    #[test]
    fn a_mark_for_each_survey() {
        for width in [280.0, 390.0, 900.0, 1400.0, f64::NAN] {
            let svg = Hundred { width, ..figure() }.svg();
            check(&svg);
            assert!(!svg.contains("NaN"));
            // A hundred, and three of the legend.
            let discs = svg.matches("<circle").count();
            assert_eq!(discs, 75 + 25 + 2);
            assert_eq!(svg.matches("class=\"fg-cross\"").count(), 2);
        }
        assert_eq!(figure().table().rows[1], ["missed <&>", "25"]);
    }
}
