//! Marks: marker shapes, interval whiskers, and the patterns that tell groups apart without colour.

use crate::paired::LineStyle;
use crate::svg::{Element, Path, Writer};
use crate::theme::GROUP_COLOURS;

/// Name of a line style in class names.
pub(crate) fn style_name(style: LineStyle) -> &'static str {
    match style {
        LineStyle::Main => "main",
        LineStyle::Second => "second",
        LineStyle::Preview => "preview",
    }
}

/// The marker of a line style: a full disc, an open diamond, a small open ring.
pub(crate) fn marker(writer: &mut Writer, style: LineStyle, x: f64, y: f64, size: f64) {
    // Small markers stand close together; a broad rim would cut the line to pieces.
    let close = if size < 3.0 { " fg-close" } else { "" };
    let class = format!("fg-{}-dot{close}", style_name(style));
    match style {
        LineStyle::Main => writer.empty(circle(x, y, size).class(&class)),
        LineStyle::Preview => writer.empty(circle(x, y, size * 0.75).class(&class)),
        LineStyle::Second => {
            let reach = size * 1.2;
            let corners = [
                (x, y - reach),
                (x + reach, y),
                (x, y + reach),
                (x - reach, y),
            ];
            writer.empty(
                Element::new("path")
                    .path(&Path::through(&corners).close())
                    .class(&class),
            );
        }
    }
}

/// A circle.
pub(crate) fn circle(x: f64, y: f64, radius: f64) -> Element {
    Element::new("circle")
        .at("cx", x)
        .at("cy", y)
        .at("r", radius)
}

/// A straight line.
pub(crate) fn segment(from: (f64, f64), to: (f64, f64)) -> Element {
    Element::new("line")
        .at("x1", from.0)
        .at("y1", from.1)
        .at("x2", to.0)
        .at("y2", to.1)
}

/// A rectangle between two heights; nothing if either size is negative.
pub(crate) fn block(x: f64, top: f64, width: f64, height: f64) -> Element {
    Element::new("rect")
        .at("x", x)
        .at("y", top)
        .at("width", width.max(0.0))
        .at("height", height.max(0.0))
}

/// A vertical interval with caps, in one path.
pub(crate) fn whisker(x: f64, low: f64, high: f64, cap: f64) -> Path {
    Path::default()
        .move_to(x, low)
        .line_to(x, high)
        .move_to(x - cap, low)
        .line_to(x + cap, low)
        .move_to(x - cap, high)
        .line_to(x + cap, high)
}

/// A horizontal interval with caps, in one path.
pub(crate) fn across(y: f64, low: f64, high: f64, cap: f64) -> Path {
    Path::default()
        .move_to(low, y)
        .line_to(high, y)
        .move_to(low, y - cap)
        .line_to(low, y + cap)
        .move_to(high, y - cap)
        .line_to(high, y + cap)
}

/// Colour and pattern of a group. Both run through six; then the pairing shifts, so that 36 groups differ.
fn look(index: usize) -> (usize, usize) {
    (
        (index + index / GROUP_COLOURS) % GROUP_COLOURS,
        index % GROUP_COLOURS,
    )
}

/// Writes the patterns of the first `count` groups; their ids begin with `id`.
pub(crate) fn patterns(writer: &mut Writer, id: &str, count: usize) {
    writer.open(Element::new("defs"));
    for index in (0..count).filter(|&index| look(index).1 != 0) {
        let (colour, pattern) = look(index);
        let (hatch, fill) = (format!("fg-hatch{colour}"), format!("fg-fill{colour}"));
        let size = if pattern == 4 { 7.0 } else { 5.5 };
        let half = size / 2.0;
        let tile = Element::new("pattern")
            .with("id", &format!("{id}-group{index}"))
            .with("patternUnits", "userSpaceOnUse")
            .at("width", size)
            .at("height", size);
        writer.open(match pattern {
            2 | 4 => tile.with("patternTransform", "rotate(45)"),
            _ => tile,
        });
        writer.empty(block(0.0, 0.0, size, size).class("fg-paper"));
        writer.empty(block(0.0, 0.0, size, size).class(&format!("fg-tint{colour}")));
        let across = || segment((0.0, half), (size, half)).class(&hatch);
        let down = || segment((half, 0.0), (half, size)).class(&hatch);
        match pattern {
            1 => writer.empty(circle(half, half, 1.35).class(&fill)),
            2 => writer.empty(down()),
            3 => writer.empty(across()),
            4 => {
                writer.empty(down());
                writer.empty(across());
            }
            // The last is the bare tint with its outline.
            _ => {}
        }
        writer.close();
    }
    writer.close();
}

/// Fills a rectangle with the look of a group and outlines it.
pub(crate) fn group_block(writer: &mut Writer, rect: Element, id: &str, index: usize) {
    let (colour, pattern) = look(index);
    writer.empty(match pattern {
        0 => rect.class(&format!("fg-edge{colour} fg-fill{colour}")),
        _ => rect
            .class(&format!("fg-edge{colour}"))
            .with("fill", &format!("url(#{id}-group{index})")),
    });
}

#[cfg(test)]
mod tests {
    use super::look;

    #[test]
    fn thirty_six_groups_look_different() {
        let mut looks: Vec<_> = (0..36).map(look).collect();
        looks.sort();
        looks.dedup();
        assert_eq!(looks.len(), 36);
    }
}
