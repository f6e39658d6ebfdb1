//! How every picture begins: the root element with title and description, the style sheet, the paper.

use crate::marks::block;
use crate::svg::{Element, Writer};
use crate::theme::stylesheet;

/// What a picture is called, what it shows, and its size in pixels.
pub(crate) struct Document<'a> {
    /// Begins every id in the picture; letters and digits only.
    pub id: &'a str,
    pub title: &'a str,
    pub description: &'a str,
    pub width: f64,
    pub height: f64,
    /// With its own style sheet.
    pub styled: bool,
}

impl Document<'_> {
    /// Opens the picture; `before_paper` writes what stands between the style sheet and the paper, such as patterns.
    pub fn open(&self, before_paper: impl FnOnce(&mut Writer)) -> Writer {
        let (id, width, height) = (self.id, self.width, self.height);
        let (title, description) = (format!("{id}-title"), format!("{id}-description"));
        let mut writer = Writer::new();
        writer.open(
            Element::new("svg")
                .with("xmlns", "http://www.w3.org/2000/svg")
                .class("fg")
                .with("id", id)
                .with("role", "img")
                .with("aria-labelledby", &title)
                .with("aria-describedby", &description)
                .at("width", width)
                .at("height", height)
                .with("viewBox", &format!("0 0 {width:.0} {height:.0}")),
        );
        writer.text(Element::new("title").with("id", &title), self.title);
        writer.text(
            Element::new("desc").with("id", &description),
            self.description,
        );
        if self.styled {
            // Nothing in the sheet needs escaping, and quotes must stay quotes.
            writer.verbatim(Element::new("style"), &stylesheet());
        }
        before_paper(&mut writer);
        writer.empty(block(0.0, 0.0, width, height).class("fg-paper"));
        writer
    }
}
