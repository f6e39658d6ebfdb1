//! Statistics followed from look to look, between the lines at which one stops.

use crate::document::Document;
use crate::legend::{Legend, Sample, rule_class};
use crate::marks::{marker, segment};
use crate::paired::LineStyle;
use crate::plot::{
    BELOW, LINE, PAD, Panel, draw_title, labelled, pixels, title_lines, widest, words,
};
use crate::scale::Linear;
use crate::svg::{Element, Path, Writer, safe_id};
use crate::ticks::{covering, within};

/// The lines at one look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// Where the look stands, such as its year.
    pub x: f64,
    /// Above this one stops with something found.
    pub upper: f64,
    /// Below this one stops without; `None` where one does not.
    pub futility: Option<f64>,
}

/// The statistics of one survey at the looks, from the first until it ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Course {
    /// Whether it is drawn as one of the first kind, else of the second.
    pub first_kind: bool,
    /// Its statistics; `None` where there is none.
    pub statistics: Vec<Option<f64>>,
    /// Whether it ends with something found.
    pub found: bool,
}

/// The figure: see the [module](self).
#[derive(Debug, Clone, PartialEq)]
pub struct InterimLines {
    /// Begins every id in the picture: give each figure of a page its own.
    pub id: String,
    /// Title: the accessible name and, if `show_title`, the visible heading.
    pub title: String,
    /// Whether the title is also drawn.
    pub show_title: bool,
    /// What the picture shows, in words.
    pub description: String,
    /// Name of the axis of looks.
    pub x_label: String,
    /// Name of the axis of statistics.
    pub y_label: String,
    /// Looks, rising.
    pub looks: Vec<Look>,
    /// Whether the lines stand on both sides of 0.
    pub two_sided: bool,
    /// Courses.
    pub courses: Vec<Course>,
    /// What courses of the first and of the second kind are.
    pub kinds: [String; 2],
    /// What it means to be beyond the upper line.
    pub beyond: String,
    /// What it means to be below the futility line.
    pub futile: String,
    /// Width in pixels, kept between 280 and 4000.
    pub width: f64,
    /// Height in pixels, kept between 240 and 4000.
    pub height: f64,
}

struct Frame {
    width: f64,
    height: f64,
    title: Vec<String>,
    legend: Legend,
    legend_top: f64,
    x: Linear,
    y: Linear,
    panel: Panel,
}

impl InterimLines {
    /// The picture with its own style sheet: stands alone as a file.
    pub fn svg(&self) -> String {
        self.draw(true)
    }

    /// The picture without the style sheet, for a page that carries [`crate::stylesheet`] once.
    pub fn svg_unstyled(&self) -> String {
        self.draw(false)
    }

    /// Lowest and highest statistic shown: all lines but such as are far beyond the last, and all courses.
    fn range(&self) -> (f64, f64) {
        let last = self.looks.last().map_or(2.0, |l| l.upper);
        let courses = || self.courses.iter().flat_map(|c| &c.statistics).flatten();
        let highest = self
            .looks
            .iter()
            .map(|l| l.upper)
            .filter(|u| *u < 4.0 * last)
            .chain(courses().copied())
            .filter(|v| v.is_finite())
            .fold(last.max(1.0), f64::max)
            .min(4.0 * last.max(1.0));
        let futility = self.looks.iter().filter_map(|l| l.futility);
        let lowest = courses()
            .copied()
            .chain(futility)
            .filter(|v| v.is_finite())
            .fold(-0.5, f64::min)
            .max(-highest);
        if self.two_sided {
            (-1.1 * highest, 1.1 * highest)
        } else {
            (1.1 * lowest, 1.1 * highest)
        }
    }

    fn frame(&self) -> Frame {
        let full = pixels(self.width, 700.0, 280.0);
        let height = pixels(self.height, 420.0, 240.0);
        let title = title_lines(self.show_title, &self.title, full);
        let mut entries = vec![(Sample::Rule(0), self.beyond.clone())];
        if self.looks.iter().any(|l| l.futility.is_some()) {
            entries.push((Sample::Rule(1), self.futile.clone()));
        }
        if !self.courses.is_empty() {
            let [first, second] = self.kinds.clone();
            entries.push((Sample::Line(LineStyle::Main), first));
            entries.push((Sample::Line(LineStyle::Second), second));
        }
        let legend = Legend::lay(entries, PAD, full - 2.0 * PAD);
        let legend_top = PAD + 20.0 * title.len() as f64;
        let (low, high) = self.range();
        let heights = self.heights(low, high);
        let (left, right) = (PAD + widest(&heights) + 8.0, full - PAD - 14.0);
        let top = legend_top + legend.height + LINE + 14.0;
        let bottom = (height - BELOW).max(top + 40.0);
        let first = self.looks.first().map_or(0.0, |l| l.x);
        let last = self.looks.last().map_or(1.0, |l| l.x);
        let margin = (0.06 * (last - first)).max(0.25);
        Frame {
            width: full,
            height,
            title,
            legend,
            legend_top,
            x: Linear::new((first - margin, last + margin), (left, right)),
            y: Linear::new((low, high), (bottom, top)),
            panel: Panel {
                left,
                right,
                top,
                bottom,
            },
        }
    }

    fn heights(&self, low: f64, high: f64) -> Vec<(f64, String)> {
        let mut labels = labelled(&covering(low, high, 6));
        labels.retain(|(v, _)| *v <= high && *v >= low);
        labels
    }

    fn draw(&self, styled: bool) -> String {
        let id = safe_id(&self.id);
        let frame = self.frame();
        let document = Document {
            id: &id,
            title: &self.title,
            description: &self.description,
            width: frame.width,
            height: frame.height,
            styled,
        };
        let mut writer = document.open(|_| ());
        self.draw_axes(&mut writer, &frame);
        self.draw_lines(&mut writer, &frame);
        self.draw_courses(&mut writer, &frame);
        frame.legend.draw(&mut writer, frame.legend_top, &id);
        writer.finish()
    }

    fn draw_axes(&self, writer: &mut Writer, frame: &Frame) {
        draw_title(writer, &frame.title);
        writer.text(
            words(PAD, frame.panel.top - 10.0, "fg-label"),
            &self.y_label,
        );
        let (low, high) = frame.y.domain();
        frame
            .panel
            .heights(writer, &frame.y, &self.heights(low, high));
        let (first, last) = frame.x.domain();
        let ticks = within(first, last, 12, 1.0);
        frame.panel.places(writer, &frame.x, &labelled(&ticks));
        frame.panel.name_below(writer, &self.x_label);
    }

    /// A point of the picture, kept within it.
    fn at(frame: &Frame, x: f64, y: f64) -> (f64, f64) {
        let (low, high) = frame.y.domain();
        (frame.x.at(x), frame.y.at(y.clamp(low, high)))
    }

    fn draw_lines(&self, writer: &mut Writer, frame: &Frame) {
        let of = |sign: f64, value: &dyn Fn(&Look) -> Option<f64>| -> Vec<(f64, f64)> {
            let points = self
                .looks
                .iter()
                .filter_map(|l| Some((l.x, sign * value(l)?)));
            points.map(|(x, y)| Self::at(frame, x, y)).collect()
        };
        let mut band = |line: &[(f64, f64)], back: &[(f64, f64)], class: &str| {
            let mut outline = line.to_vec();
            outline.extend(back.iter().rev());
            if outline.len() > 2 {
                let path = Path::through(&outline).close();
                writer.empty(Element::new("path").path(&path).class(class));
            }
        };
        let to = |line: &[(f64, f64)], y: f64| -> Vec<(f64, f64)> {
            line.iter().map(|p| (p.0, y)).collect()
        };
        let upper = |l: &Look| Some(l.upper);
        let futility = |l: &Look| l.futility;
        let (high, wedge) = (of(1.0, &upper), of(1.0, &futility));
        band(&high, &to(&high, frame.panel.top), "fg-main-band");
        let (mut beyond, mut futile) = (vec![high], vec![wedge.clone()]);
        if self.two_sided {
            let low = of(-1.0, &upper);
            band(&low, &to(&low, frame.panel.bottom), "fg-main-band");
            beyond.push(low);
            let mirrored = of(-1.0, &futility);
            band(&wedge, &mirrored, "fg-second-band");
            futile.push(mirrored);
        } else {
            band(&wedge, &to(&wedge, frame.panel.bottom), "fg-second-band");
        }
        for (lines, rule) in [(beyond, 0), (futile, 1)] {
            for line in lines {
                if line.len() > 1 {
                    let path = Path::through(&line);
                    writer.empty(Element::new("path").path(&path).class(&rule_class(rule)));
                }
                // A short stroke at each look: between looks nothing is looked at.
                for (x, y) in line {
                    writer.empty(segment((x - 6.0, y), (x + 6.0, y)).class("fg-total"));
                }
            }
        }
    }

    fn draw_courses(&self, writer: &mut Writer, frame: &Frame) {
        for course in &self.courses {
            let known = course.statistics.iter().zip(&self.looks);
            let points: Vec<(f64, f64)> = known
                .filter_map(|(s, l)| Some(Self::at(frame, l.x, (*s)?)))
                .collect();
            let (class, style) = if course.first_kind {
                ("fg-main-spread", LineStyle::Main)
            } else {
                ("fg-second-spread fg-dash1", LineStyle::Second)
            };
            if points.len() > 1 {
                let path = Path::through(&points);
                writer.empty(Element::new("path").path(&path).class(class));
            }
            if let Some(&(x, y)) = points.last() {
                marker(writer, style, x, y, if course.found { 4.5 } else { 2.5 });
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::xml_check::check;

    fn figure(two_sided: bool) -> InterimLines {
        let look = |x: f64, upper, futility| Look { x, upper, futility };
        InterimLines {
            id: "looks".into(),
            title: "Looks <planned> & \"kept\"".into(),
            show_title: true,
            description: "lines".into(),
            x_label: "years".into(),
            y_label: "statistic".into(),
            looks: vec![
                look(4.0, 30.0, None),
                look(7.0, 2.9, Some(0.4)),
                look(10.0, 2.0, None),
            ],
            two_sided,
            courses: vec![
                Course {
                    first_kind: true,
                    statistics: vec![Some(1.0), Some(3.4)],
                    found: true,
                },
                Course {
                    first_kind: false,
                    statistics: vec![Some(0.2), None, Some(f64::NAN)],
                    found: false,
                },
            ],
            kinds: ["with".into(), "without".into()],
            beyond: "stop: found".into(),
            futile: "stop: futile".into(),
            width: 700.0,
            height: 420.0,
        }
    }

    #[test]
    fn well_formed_on_one_side_and_on_two() {
        for two in [false, true] {
            let f = figure(two);
            for svg in [f.svg(), f.svg_unstyled()] {
                check(&svg);
                assert!(!svg.contains("NaN") && !svg.contains("inf"));
                for word in ["stop: found", "stop: futile", "with", "without"] {
                    assert!(svg.contains(word), "{word}");
                }
            }
            assert_eq!(
                f.svg().matches("fg-main-band\"").count(),
                1 + usize::from(two)
            );
        }
    }

    /// A first line far beyond the last does not squeeze the picture: it is drawn at the edge.
    #[test]
    fn far_lines_do_not_squeeze() {
        let f = figure(false);
        assert!(f.range().1 < 8.1);
        let frame = f.frame();
        assert_eq!(InterimLines::at(&frame, 4.0, 30.0).1, frame.panel.top);
    }

    #[test]
    fn nothing_to_draw() {
        let mut f = figure(true);
        f.looks.clear();
        f.courses.clear();
        f.width = f64::NAN;
        check(&f.svg());
    }
}
