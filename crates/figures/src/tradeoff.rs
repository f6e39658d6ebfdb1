//! What more of a price buys: shares of one against an amount, with a few choices named.
//!
//! A dotted line through all choices, a disc with its interval at those that were tried, and a ring with its name about
//! those that stand out. A choice that is not on the line (it costs more than it need) stands below it.

mod names;

use crate::document::Document;
use crate::locale::in_english;
use crate::marks::{circle, segment, whisker};
use crate::number::{grouped, percent};
use crate::plot::{
    BELOW, LINE, PAD, Panel, draw_title, labelled, pixels, spot, title_lines, words,
};
use crate::scale::Linear;
use crate::svg::{Element, Path, Writer, safe_id};
use crate::table::Table;
use crate::ticks::within;
use crate::words::width;
use names::{Area, Placed};

/// One choice.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// What it is, for the table and the pointer.
    pub label: String,
    /// Its price.
    pub amount: f64,
    /// The share foreseen.
    pub foreseen: f64,
    /// The share found when it was tried, with the ends of its interval.
    pub tried: Option<(f64, f64, f64)>,
    /// What was found beside it in the trial, such as the share of false alarms.
    pub beside: Option<f64>,
    /// Whether it lies on the line of best choices.
    pub on_line: bool,
    /// Its name in the picture, when it stands out.
    pub name: Option<String>,
}

/// The figure: see the [module](self).
#[derive(Debug, Clone, PartialEq)]
pub struct Tradeoff {
    /// Begins every id in the picture: give each figure of a page its own.
    pub id: String,
    /// Title: the accessible name and, if `show_title`, the visible heading.
    pub title: String,
    /// Whether the title is also drawn.
    pub show_title: bool,
    /// What the picture shows, in words.
    pub description: String,
    /// Name of the axis of amounts.
    pub x_label: String,
    /// Name of the axis of shares.
    pub y_label: String,
    /// What the dotted line is.
    pub foreseen_label: String,
    /// What the discs are.
    pub tried_label: String,
    /// What is told beside a tried share.
    pub beside_label: String,
    /// A wanted share: its name and value.
    pub wanted: (String, f64),
    /// The choices, in any order.
    pub choices: Vec<Choice>,
    /// Width in pixels, kept between 280 and 4000.
    pub width: f64,
    /// Height in pixels, kept between 260 and 4000.
    pub height: f64,
}

struct Frame {
    width: f64,
    height: f64,
    title: Vec<String>,
    x: Linear,
    y: Linear,
    panel: Panel,
}

impl Tradeoff {
    /// The picture with its own style sheet: stands alone as a file.
    pub fn svg(&self) -> String {
        self.draw(true)
    }

    /// The picture without the style sheet, for a page that carries it once.
    pub fn svg_unstyled(&self) -> String {
        self.draw(false)
    }

    /// The table as CSV, in English marks.
    pub fn csv(&self) -> String {
        in_english(|| self.table().csv())
    }

    /// The choices as a table for reading, cheapest first.
    pub fn table(&self) -> Table {
        let mut sorted: Vec<&Choice> = self.choices.iter().collect();
        sorted.sort_by(|a, b| a.amount.total_cmp(&b.amount));
        let row = |c: &&Choice| {
            let tried = |of: fn((f64, f64, f64)) -> f64| {
                c.tried.map_or("—".to_string(), |t| percent(of(t)))
            };
            vec![
                match &c.name {
                    Some(name) => format!("{} ({name})", c.label),
                    None => c.label.clone(),
                },
                grouped(c.amount, 0),
                percent(c.foreseen),
                tried(|t| t.0),
                tried(|t| t.1),
                tried(|t| t.2),
                c.beside.map_or("—".to_string(), percent),
            ]
        };
        Table {
            caption: self.title.clone(),
            headers: vec![
                "plan".into(),
                self.x_label.clone(),
                self.foreseen_label.clone(),
                self.tried_label.clone(),
                "low".into(),
                "high".into(),
                self.beside_label.clone(),
            ],
            rows: sorted.iter().map(row).collect(),
        }
    }

    fn shown(&self) -> impl Iterator<Item = &Choice> {
        let sound = |c: &&Choice| c.amount.is_finite() && c.amount >= 0.0 && c.foreseen.is_finite();
        self.choices.iter().filter(sound)
    }

    fn frame(&self) -> Frame {
        let full = pixels(self.width, 700.0, 280.0);
        let height = pixels(self.height, 400.0, 260.0);
        let title = title_lines(self.show_title, &self.title, full);
        let most = self.shown().map(|c| c.amount).fold(0.0, f64::max);
        let most = if most > 0.0 { 1.04 * most } else { 1.0 };
        let (left, right) = (PAD + width("100 %", 12.0) + 10.0, full - PAD - 6.0);
        let top = PAD + 20.0 * title.len() as f64 + 2.0 * LINE + 16.0;
        let bottom = height - BELOW;
        Frame {
            width: full,
            height,
            title,
            x: Linear::new((0.0, most), (left, right)),
            y: Linear::new((0.0, 1.0), (bottom, top)),
            panel: Panel {
                left,
                right,
                top,
                bottom,
            },
        }
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
        self.draw_choices(&mut writer, &frame);
        self.draw_names(&mut writer, &frame);
        writer.finish()
    }

    fn draw_axes(&self, writer: &mut Writer, frame: &Frame) {
        draw_title(writer, &frame.title);
        writer.text(
            words(PAD, frame.panel.top - LINE - 12.0, "fg-label"),
            &self.y_label,
        );
        let key = format!("●  {}   ·····  {}", self.tried_label, self.foreseen_label);
        writer.text(words(PAD, frame.panel.top - 12.0, "fg-text"), &key);
        let tenths = [0.0, 2.0, 4.0, 6.0, 8.0, 10.0];
        let heights = tenths.map(|t| (t / 10.0, format!("{:.0} %", 10.0 * t)));
        frame.panel.heights(writer, &frame.y, &heights);
        let ticks = within(0.0, frame.x.domain().1, 6, 0.0);
        frame.panel.places(writer, &frame.x, &labelled(&ticks));
        frame.panel.name_below(writer, &self.x_label);
        let share = self.wanted.1;
        if share.is_finite() {
            let y = frame.y.at(share.clamp(0.0, 1.0));
            let rule = segment((frame.panel.left, y), (frame.panel.right, y));
            writer.empty(rule.class(&crate::legend::rule_class(0)));
            let at = words(frame.panel.left + 6.0, y - 5.0, "fg-tag");
            writer.text(at, &self.wanted_text());
        }
    }

    fn draw_choices(&self, writer: &mut Writer, frame: &Frame) {
        let place =
            |amount: f64, share: f64| (frame.x.at(amount), frame.y.at(share.clamp(0.0, 1.0)));
        let mut line: Vec<&Choice> = self.shown().filter(|c| c.on_line).collect();
        line.sort_by(|a, b| a.amount.total_cmp(&b.amount));
        let points: Vec<_> = line.iter().map(|c| place(c.amount, c.foreseen)).collect();
        if points.len() > 1 {
            let path = Path::through(&points);
            writer.empty(Element::new("path").path(&path).class("fg-preview"));
        }
        for c in self.shown() {
            let (x, y) = match c.tried {
                Some((share, low, high)) => {
                    let (x, y) = place(c.amount, share);
                    let bar = whisker(x, place(0.0, low).1, place(0.0, high).1, 3.0);
                    writer.empty(Element::new("path").path(&bar).class("fg-main-spread"));
                    writer.empty(circle(x, y, 3.5).class("fg-main-dot"));
                    (x, y)
                }
                None => place(c.amount, c.foreseen),
            };
            if c.name.is_some() {
                writer.empty(circle(x, y, names::RING).class("fg-ring"));
            }
            spot(writer, &self.told(c), circle(x, y, 9.0));
        }
    }

    fn told(&self, c: &Choice) -> String {
        let tried = c.tried.map_or(String::new(), |(share, low, high)| {
            let beside = c.beside.map_or(String::new(), |b| {
                format!(", {} {}", self.beside_label, percent(b))
            });
            format!(
                "; {} {} ({} to {}){beside}",
                self.tried_label,
                percent(share),
                percent(low),
                percent(high)
            )
        });
        format!(
            "{}: {} {}; {} {}{tried}",
            c.label,
            grouped(c.amount, 0),
            self.x_label,
            self.foreseen_label,
            percent(c.foreseen)
        )
    }

    /// What stands at the rule of the wanted share.
    fn wanted_text(&self) -> String {
        let (name, share) = &self.wanted;
        format!("{name} {}", percent(*share))
    }

    /// Names beside their choices.
    fn draw_names(&self, writer: &mut Writer, frame: &Frame) {
        for Placed {
            name,
            x,
            y,
            end,
            leader,
            ..
        } in self.names(frame)
        {
            if let Some((from, to)) = leader {
                writer.empty(segment((x, from), (x, to)).class("fg-leader"));
            }
            let class = if end { "fg-tag fg-end" } else { "fg-tag" };
            writer.text(words(x, y, class), name);
        }
    }

    fn names(&self, frame: &Frame) -> Vec<Placed<'_>> {
        let y = |share: f64| frame.y.at(share.clamp(0.0, 1.0));
        let named = self.shown().filter_map(|c| {
            let share = c.tried.map_or(c.foreseen, |t| t.0);
            Some((c.name.as_deref()?, (frame.x.at(c.amount), y(share))))
        });
        let whiskers = self.shown().filter_map(|c| {
            let (_, low, high) = c.tried?;
            Some(Area::whisker(frame.x.at(c.amount), (y(high), y(low))))
        });
        let (named, mut whiskers): (Vec<_>, Vec<_>) = (named.collect(), whiskers.collect());
        if self.wanted.1.is_finite() {
            // The rule of the wanted share, with its words.
            let (rule, text) = (y(self.wanted.1), self.wanted_text());
            let left = frame.panel.left;
            whiskers.extend([
                Area {
                    x: (left, frame.panel.right),
                    y: (rule - 2.0, rule + 2.0),
                },
                Area {
                    x: (left, left + 6.0 + width(&text, 12.0)),
                    y: (rule - 16.0, rule),
                },
            ]);
        }
        names::placed(&named, &whiskers, &frame.panel)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::xml_check::check;

    fn figure() -> Tradeoff {
        let choice = |amount: f64, foreseen: f64, name: Option<&str>| Choice {
            label: format!("{amount} <of>"),
            amount,
            foreseen,
            tried: name.map(|_| (foreseen + 0.01, foreseen - 0.02, foreseen + 0.04)),
            beside: name.map(|_| 0.05),
            on_line: name != Some("this plan"),
            name: name.map(Into::into),
        };
        Tradeoff {
            id: "front".into(),
            title: "Price & \"gain\"".into(),
            show_title: true,
            description: "choices".into(),
            x_label: "animals".into(),
            y_label: "power".into(),
            foreseen_label: "foreseen".into(),
            tried_label: "simulated".into(),
            beside_label: "false alarms".into(),
            wanted: ("wanted".into(), 0.8),
            choices: vec![
                choice(4000.0, 0.9, None),
                choice(1000.0, 0.3, None),
                choice(3000.0, 0.81, Some("the least plan")),
                choice(5000.0, 0.7, Some("this plan")),
            ],
            width: 700.0,
            height: 400.0,
        }
    }

    #[test]
    fn well_formed_whatever_it_is_given() {
        let mut odd = figure();
        odd.choices[0].foreseen = f64::NAN;
        odd.choices[2].tried = Some((f64::NAN, 0.0, f64::INFINITY));
        odd.wanted.1 = f64::NAN;
        let mut none = figure();
        none.choices.clear();
        (none.width, none.height) = (f64::NAN, 1e9);
        for f in [figure(), odd, none] {
            for svg in [f.svg(), f.svg_unstyled()] {
                check(&svg);
                assert!(!svg.contains("NaN") && !svg.contains("inf"));
            }
        }
        assert!(figure().svg().contains("the least plan"));
    }

    /// Wherever two named choices lie to each other, also in a corner, no name lies on a ring or on the other name.
    #[test]
    fn names_lie_on_nothing() {
        for amount in (2000..5000).step_by(50) {
            for share in 0..=20 {
                let mut figure = figure();
                let present = &mut figure.choices[3];
                present.amount = f64::from(amount);
                present.tried = Some((f64::from(share) / 20.0, 0.0, 1.0));
                let frame = figure.frame();
                let names = figure.names(&frame);
                let names: Vec<&Area> = names.iter().map(|n| &n.area).collect();
                let ring = |c: &Choice| {
                    let share = c.tried.expect("it was tried").0;
                    Area::ring((frame.x.at(c.amount), frame.y.at(share)))
                };
                let rings = [ring(&figure.choices[2]), ring(&figure.choices[3])];
                let at = format!("{amount} {share}");
                assert!(!names[0].meets(names[1]), "{at}");
                assert!(
                    !rings.iter().any(|r| names.iter().any(|n| r.meets(n))),
                    "{at}"
                );
                let panel = &frame.panel;
                for n in names {
                    assert!(n.y.0 >= panel.top && n.y.1 <= panel.bottom + 1.0, "{at}");
                }
            }
        }
    }

    /// Beside a plan whose whisker reaches where its name would stand, it stands elsewhere.
    #[test]
    fn a_name_leaves_what_was_simulated_free() {
        let mut figure = figure();
        figure.choices[0].amount = 3100.0;
        figure.choices[0].tried = Some((0.7, 0.5, 0.9));
        let frame = figure.frame();
        let name = figure.names(&frame)[0].area;
        let high = frame.y.at(0.9);
        let whisker = Area::whisker(frame.x.at(3100.0), (high, frame.y.at(0.5)));
        assert!(!whisker.meets(&name));
        // As near as it goes: on the other side, below.
        assert!(name.x.1 <= frame.x.at(3000.0) + 1e-9);
    }

    /// Two plans that lie close: no name stands where it would be taken for the other's.
    #[test]
    fn a_name_is_its_own_rings() {
        let mut figure = figure();
        figure.choices[3].amount = 3150.0;
        figure.choices[3].tried = Some((0.74, 0.7, 0.78));
        let frame = figure.frame();
        let names = figure.names(&frame);
        let ring = |amount: f64, share: f64| (frame.x.at(amount), frame.y.at(share));
        let rings = [ring(3000.0, 0.82), ring(3150.0, 0.74)];
        for (name, other) in names.iter().zip([rings[1], rings[0]]) {
            let about = Area::ring((other.0, other.1));
            let wider = Area {
                x: (about.x.0 - 10.0, about.x.1 + 10.0),
                y: (about.y.0 - 10.0, about.y.1 + 10.0),
            };
            assert!(!name.area.meets(&wider), "{}", name.name);
        }
    }

    /// Cheapest first, with what was tried and what was not.
    #[test]
    fn the_table_is_sorted_by_price() {
        let rows = figure().table().rows;
        let amounts: Vec<&str> = rows.iter().map(|r| r[1].as_str()).collect();
        assert_eq!(amounts, ["1,000", "3,000", "4,000", "5,000"]);
        assert_eq!(rows[0][3], "—");
        assert_eq!(
            rows[1][2..],
            ["81.0 %", "82.0 %", "79.0 %", "85.0 %", "5.0 %"]
        );
        assert!(rows[1][0].ends_with("(the least plan)"));
    }
}
