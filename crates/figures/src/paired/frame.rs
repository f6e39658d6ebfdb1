//! Where everything goes: the places of titles, legends, panels and axes, before anything is drawn.

use super::{LineStyle, PairedPanels};
use crate::legend::{Legend, Sample};
use crate::number::{tick, tidy};
use crate::scale::Linear;
use crate::ticks::{Ticks, covering};
use crate::words::{width, wrap};

/// Space around everything.
pub(super) const PAD: f64 = 12.0;
/// Height of a line of text in a heading.
pub(super) const LINE: f64 = 16.0;
/// From this width on, rules are labelled beside the plot instead of in the legend.
const WIDE: f64 = 560.0;
/// Widest label beside the plot.
const BESIDE: f64 = 124.0;
/// Smallest height of the two panels together.
const LEAST_PANELS: f64 = 270.0;

/// One panel: heading, legend, plot.
pub(super) struct Panel {
    pub(super) heading: Vec<String>,
    pub(super) heading_top: f64,
    pub(super) legend: Legend,
    pub(super) legend_top: f64,
    pub(super) y: Linear,
    pub(super) ticks: Vec<(f64, String)>,
}

impl Panel {
    pub(super) fn top(&self) -> f64 {
        self.y.range().1
    }

    pub(super) fn bottom(&self) -> f64 {
        self.y.range().0
    }
}

/// The whole plan.
pub(super) struct Frame {
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) title: Vec<String>,
    pub(super) upper: Panel,
    pub(super) lower: Panel,
    pub(super) x: Linear,
    /// Left edge of both plots.
    pub(super) left: f64,
    /// Right edge of both plots.
    pub(super) right: f64,
    pub(super) x_heading: Vec<String>,
    /// Room for one x value in pixels: the smallest distance between neighbours.
    pub(super) slot: f64,
    /// Labels of rules beside the plot, wrapped; `None` where they are in the legend.
    pub(super) beside: Option<Vec<Vec<String>>>,
    /// The highlighted x and its label, wrapped.
    pub(super) highlight: Option<(f64, Vec<String>)>,
}

impl Frame {
    pub(super) fn plan(figure: &PairedPanels) -> Self {
        let sound = |value: f64, otherwise: f64| if value.is_finite() { value } else { otherwise };
        let full = sound(figure.width, 700.0).clamp(280.0, 4000.0).round();
        let room = full - 2.0 * PAD;

        let percents: Vec<_> = (0..=5)
            .map(|n| (0.2 * f64::from(n), format!("{} %", 20 * n)))
            .collect();
        let amounts = amounts(figure);
        let amount_labels: Vec<_> = amounts
            .values
            .iter()
            .map(|&v| (v, tick(v, amounts.step, amounts.decimals)))
            .collect();
        let widest = percents
            .iter()
            .chain(&amount_labels)
            .map(|(_, text)| width(text, 12.0))
            .fold(24.0, f64::max);
        let left = PAD + widest + 8.0;

        let beside =
            (full >= WIDE && figure.rules.iter().any(|rule| rule.y.is_finite())).then(|| {
                figure
                    .rules
                    .iter()
                    .map(|rule| wrap(&rule_text(rule), 12.0, BESIDE))
                    .collect::<Vec<_>>()
            });
        let right = full
            - PAD
            - beside
                .as_ref()
                .map_or(4.0, |labels| 16.0 + widest_line(labels.iter().flatten()));

        let (x, slot) = shared_axis(figure, left, right);
        let highlight = figure.highlight.as_ref().filter(|(at, _)| at.is_finite());
        let highlight = highlight.map(|(at, text)| (*at, wrap(text, 13.5, right - left)));

        let title = if figure.show_title {
            wrap(&figure.title, 16.0, room)
        } else {
            Vec::new()
        };
        let heading = |text: &str| wrap(text, 13.5, room);
        let (above, beneath, x_heading) = (
            heading(&figure.upper_label),
            heading(&figure.lower_label),
            wrap(&figure.x_label, 13.5, right - left),
        );
        let upper_legend = Legend::lay(upper_entries(figure, beside.is_none()), PAD, room);
        let lower_legend = Legend::lay(lower_entries(figure), PAD, room);

        // From the top down: first all heights that the words need, then the rest for the panels.
        let lines = |text: &[String]| LINE * text.len() as f64;
        let tag = highlight
            .as_ref()
            .map_or(8.0, |(_, text)| lines(text) + 12.0);
        let first = PAD + title.len() as f64 * 20.0 + if title.is_empty() { 0.0 } else { 6.0 };
        let upper_legend_top = first + lines(&above) + 4.0;
        let upper_top = upper_legend_top + upper_legend.height + tag;
        let between = 24.0 + lines(&beneath) + 4.0 + lower_legend.height + 10.0;
        let under = 26.0 + lines(&x_heading) + PAD;
        let panels =
            (sound(figure.height, 0.0).min(8000.0) - upper_top - between - under).max(LEAST_PANELS);
        let upper_bottom = (upper_top + panels * 0.58).round();
        let lower_top = upper_bottom + between;
        let lower_bottom = (upper_bottom + between + panels * 0.42).round();
        let lower_end = amounts.values.last().copied().unwrap_or(1.0);
        Self {
            width: full,
            height: (lower_bottom + under).round(),
            title,
            upper: Panel {
                heading: above,
                heading_top: first,
                legend: upper_legend,
                legend_top: upper_legend_top,
                y: Linear::new((0.0, 1.0), (upper_bottom, upper_top)),
                ticks: percents,
            },
            lower: Panel {
                heading_top: upper_bottom + 24.0,
                legend_top: upper_bottom + 24.0 + lines(&beneath) + 4.0,
                heading: beneath,
                legend: lower_legend,
                y: Linear::new((0.0, lower_end), (lower_bottom, lower_top)),
                ticks: amount_labels,
            },
            x,
            left,
            right,
            x_heading,
            slot,
            beside,
            highlight,
        }
    }
}

/// A rule in words: its label and its height.
pub(super) fn rule_text(rule: &super::Rule) -> String {
    format!("{} {} %", rule.label, tidy(rule.y * 100.0))
}

fn widest_line<'a>(lines: impl Iterator<Item = &'a String>) -> f64 {
    lines.map(|line| width(line, 12.0)).fold(0.0, f64::max)
}

/// Ticks of the lower panel, from 0 to beyond the highest total and whisker.
fn amounts(figure: &PairedPanels) -> Ticks {
    let tops = figure.columns.iter().filter_map(|column| {
        let total = column.total(figure.groups.len())?;
        Some(column.interval().map_or(total, |(_, high)| high.max(total)))
    });
    let highest = tops.fold(0.0, f64::max);
    covering(0.0, if highest > 0.0 { highest } else { 1.0 }, 4)
}

/// The x scale, with air for half a bar and half a marker on both sides, and the slot in pixels.
fn shared_axis(figure: &PairedPanels, left: f64, right: f64) -> (Linear, f64) {
    let mut all = figure.all_x();
    all.extend(
        figure
            .highlight
            .iter()
            .map(|(x, _)| *x)
            .filter(|x| x.is_finite()),
    );
    all.sort_by(f64::total_cmp);
    let (Some(&low), Some(&high)) = (all.first(), all.last()) else {
        return (Linear::new((0.0, 1.0), (left, right)), 40.0);
    };
    let positions = figure.all_x();
    let nearest = positions
        .windows(2)
        .map(|pair| pair[1] - pair[0])
        .fold(f64::INFINITY, f64::min);
    if high <= low || !(high - low).is_finite() {
        return (Linear::new((low, high), (left, right)), 60.0);
    }
    // Solve for the air: slot = nearest * pixels per unit, and the air takes one slot of the width.
    let share = (nearest / (high - low)).min(1.0);
    let slot = ((right - left) * share / (1.0 + share)).clamp(2.0, 64.0);
    let air = slot.max(10.0) / 2.0 + 2.0;
    (Linear::new((low, high), (left + air, right - air)), slot)
}

fn upper_entries(figure: &PairedPanels, with_rules: bool) -> Vec<(Sample, String)> {
    let mut entries: Vec<_> = [LineStyle::Main, LineStyle::Second, LineStyle::Preview]
        .into_iter()
        .flat_map(|style| figure.lines.iter().filter(move |line| line.style == style))
        .map(|line| (Sample::Line(line.style), line.label.clone()))
        .collect();
    if with_rules {
        let rules = figure
            .rules
            .iter()
            .enumerate()
            .filter(|(_, rule)| rule.y.is_finite());
        entries.extend(rules.map(|(index, rule)| (Sample::Rule(index), rule_text(rule))));
    }
    entries
}

fn lower_entries(figure: &PairedPanels) -> Vec<(Sample, String)> {
    let mut entries: Vec<_> = figure
        .groups
        .iter()
        .enumerate()
        .map(|(index, group)| (Sample::Group(index), group.label.clone()))
        .collect();
    // The whisker is told where there is one, or nothing yet.
    let whiskers =
        figure.columns.is_empty() || figure.columns.iter().any(|c| c.interval().is_some());
    if !figure.groups.is_empty() && whiskers {
        let total = if figure.total_label.is_empty() {
            "total"
        } else {
            &figure.total_label
        };
        entries.push((Sample::Total, total.to_string()));
    }
    entries
}
