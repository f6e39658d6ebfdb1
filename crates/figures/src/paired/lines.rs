//! The lines of the upper panel: first all intervals, then all lines, then all markers, so that no
//! interval of one line hides a marker of another.

use super::frame::Frame;
use super::{Line, LineStyle, PairedPanels, Point, Spread};
use crate::marks::{circle, marker, style_name, whisker};
use crate::number::{percent, tidy};
use crate::svg::{Element, Path, Writer};

/// Draws all lines; the main line comes last of its kind, to lie on top.
pub(super) fn draw(writer: &mut Writer, frame: &Frame, figure: &PairedPanels) {
    let lines: Vec<&Line> = [LineStyle::Preview, LineStyle::Second, LineStyle::Main]
        .into_iter()
        .flat_map(|style| figure.lines.iter().filter(move |line| line.style == style))
        .collect();
    for line in &lines {
        match line.spread {
            Spread::Bars => draw_whiskers(writer, frame, line),
            Spread::Band => draw_band(writer, frame, line),
        }
    }
    for line in &lines {
        draw_line(writer, frame, line);
    }
    for line in &lines {
        draw_markers(writer, frame, figure, line);
    }
}

/// Points in order of x, those without a finite x left out.
fn in_order(line: &Line) -> Vec<Point> {
    let mut points = line.points.clone();
    points.retain(|point| point.x.is_finite());
    points.sort_by(|a, b| a.x.total_cmp(&b.x));
    points
}

/// Pixel height of a share, kept inside the panel.
fn height(frame: &Frame, share: f64) -> f64 {
    frame.upper.y.at(share.clamp(0.0, 1.0))
}

/// Radius of a marker: smaller where points stand close.
fn marker_size(frame: &Frame) -> f64 {
    if frame.slot < 12.0 { 2.0 } else { 4.25 }
}

fn draw_whiskers(writer: &mut Writer, frame: &Frame, line: &Line) {
    let class = format!("fg-{}-spread", style_name(line.style));
    for point in in_order(line) {
        let Some((low, high)) = point.interval() else {
            continue;
        };
        let cap = marker_size(frame) * 0.8;
        let path = whisker(
            frame.x.at(point.x),
            height(frame, low),
            height(frame, high),
            cap,
        );
        // The halo sets the interval apart from a rule that runs through it.
        writer.empty(Element::new("path").path(&path).class("fg-halo"));
        writer.empty(Element::new("path").path(&path).class(&class));
    }
}

fn draw_band(writer: &mut Writer, frame: &Frame, line: &Line) {
    let class = format!("fg-{}-band", style_name(line.style));
    for run in in_order(line).split(|point| point.interval().is_none()) {
        let ends = run
            .iter()
            .filter_map(|p| p.interval().map(|ends| (frame.x.at(p.x), ends)));
        let ends: Vec<_> = ends.collect();
        let forth = ends.iter().map(|&(x, (_, high))| (x, height(frame, high)));
        let back = ends
            .iter()
            .rev()
            .map(|&(x, (low, _))| (x, height(frame, low)));
        let outline: Vec<_> = forth.chain(back).collect();
        if run.len() > 1 {
            let band = Path::through(&outline).close();
            writer.empty(Element::new("path").path(&band).class(&class));
        }
    }
}

fn draw_line(writer: &mut Writer, frame: &Frame, line: &Line) {
    let class = format!("fg-{}", style_name(line.style));
    for run in in_order(line).split(|point| !point.y.is_finite()) {
        let place = |point: &Point| (frame.x.at(point.x), height(frame, point.y));
        let places: Vec<_> = run.iter().map(place).collect();
        if places.len() > 1 {
            writer.empty(
                Element::new("path")
                    .path(&Path::through(&places))
                    .class(&class),
            );
        }
    }
}

fn draw_markers(writer: &mut Writer, frame: &Frame, figure: &PairedPanels, line: &Line) {
    for point in in_order(line).iter().filter(|point| point.y.is_finite()) {
        // A preview shows its ring only while nothing better is there.
        if line.style == LineStyle::Preview && has_main_value(figure, point.x) {
            continue;
        }
        let (x, y) = (frame.x.at(point.x), height(frame, point.y));
        writer.open(Element::new("g").class("fg-spot"));
        writer.text(Element::new("title"), &in_words(figure, line, point));
        marker(writer, line.style, x, y, marker_size(frame));
        writer.empty(circle(x, y, (frame.slot / 2.0).clamp(5.0, 9.0)).class("fg-hit"));
        writer.close();
    }
}

fn has_main_value(figure: &PairedPanels, x: f64) -> bool {
    let main = figure
        .lines
        .iter()
        .filter(|line| line.style == LineStyle::Main);
    main.flat_map(|line| &line.points)
        .any(|point| point.x == x && point.y.is_finite())
}

fn in_words(figure: &PairedPanels, line: &Line, point: &Point) -> String {
    let (x, share) = (tidy(point.x), percent(point.y));
    let words = format!("{} {x}: {} {share}", figure.x_label, line.label);
    match point.interval() {
        Some((low, high)) => format!("{words} ({} to {})", percent(low), percent(high)),
        None => words,
    }
}
