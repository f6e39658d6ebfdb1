//! The lower panel: stacked bars with a whisker on the total.

use super::frame::Frame;
use super::{Column, PairedPanels};
use crate::marks::{block, group_block, whisker};
use crate::number::tidy;
use crate::svg::{Element, Writer};

/// Draws the bars; `id` begins the ids of the group patterns.
pub(super) fn draw(writer: &mut Writer, frame: &Frame, figure: &PairedPanels, id: &str) {
    for column in figure.columns.iter().filter(|column| column.x.is_finite()) {
        let Some(total) = column.total(figure.groups.len()) else {
            continue;
        };
        writer.open(Element::new("g").class("fg-spot"));
        writer.text(Element::new("title"), &in_words(figure, column, total));
        let wide = (frame.slot * 0.62).clamp(1.5, 36.0);
        let x = frame.x.at(column.x);
        let mut below = 0.0;
        for (index, part) in column.parts.iter().enumerate() {
            let (bottom, top) = (frame.lower.y.at(below), frame.lower.y.at(below + part));
            if *part > 0.0 {
                group_block(
                    writer,
                    block(x - wide / 2.0, top, wide, bottom - top),
                    id,
                    index,
                );
            }
            below += part;
        }
        if let Some((low, high)) = column.interval() {
            let path = whisker(
                x,
                frame.lower.y.at(low),
                frame.lower.y.at(high),
                (wide * 0.22).clamp(0.75, 6.0),
            );
            // On a narrow bar the halo would wipe out what it is meant to set apart.
            if wide >= 12.0 {
                writer.empty(Element::new("path").path(&path).class("fg-halo"));
            }
            writer.empty(Element::new("path").path(&path).class("fg-total"));
        }
        let (top, bottom) = (frame.lower.top(), frame.lower.bottom());
        writer.empty(block(x - frame.slot / 2.0, top, frame.slot, bottom - top).class("fg-hit"));
        writer.close();
    }
}

fn in_words(figure: &PairedPanels, column: &Column, total: f64) -> String {
    let mut words = format!("{} {}: ", figure.x_label, tidy(column.x));
    for (group, part) in figure.groups.iter().zip(&column.parts) {
        words.push_str(&format!("{} {}; ", group.label, tidy(*part)));
    }
    words.push_str(&format!("total {}", tidy(total)));
    if let Some((low, high)) = column.interval() {
        words.push_str(&format!(" ({} to {})", tidy(low), tidy(high)));
    }
    words
}
