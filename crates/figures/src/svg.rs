//! A tiny writer of SVG: elements, attributes, escaped text, nothing else.

/// One element and its attributes, being built.
#[derive(Debug, Clone)]
pub struct Element {
    name: &'static str,
    attributes: String,
    drawable: bool,
}

impl Element {
    /// An element without attributes. The name is written as it is.
    pub fn new(name: &'static str) -> Self {
        Self {
            name,
            attributes: String::new(),
            drawable: true,
        }
    }

    /// Adds an attribute whose value is text; it is escaped.
    pub fn with(mut self, name: &str, value: &str) -> Self {
        self.attributes
            .push_str(&format!(" {name}=\"{}\"", escape(value)));
        self
    }

    /// Adds a class attribute.
    pub fn class(self, names: &str) -> Self {
        self.with("class", names)
    }

    /// Adds a numeric attribute, to a hundredth. A number that is not finite makes the whole element vanish.
    pub fn at(mut self, name: &str, value: f64) -> Self {
        self.drawable &= value.is_finite();
        let text = coordinate(value);
        self.with(name, &text)
    }

    /// Adds path data; a path with nothing in it makes the element vanish.
    pub fn path(mut self, path: &Path) -> Self {
        self.drawable &= path.finite && !path.data.is_empty();
        self.with("d", &path.data)
    }
}

/// Path data of straight pieces, in absolute coordinates.
#[derive(Debug, Clone)]
pub struct Path {
    data: String,
    finite: bool,
}

impl Default for Path {
    fn default() -> Self {
        Self {
            data: String::new(),
            finite: true,
        }
    }
}

impl Path {
    /// Starts a new piece at a point.
    pub fn move_to(self, x: f64, y: f64) -> Self {
        self.add('M', x, y)
    }

    /// A straight line to a point.
    pub fn line_to(self, x: f64, y: f64) -> Self {
        self.add('L', x, y)
    }

    /// Closes the piece.
    pub fn close(mut self) -> Self {
        self.data.push('Z');
        self
    }

    /// One open piece through the points.
    pub fn through(points: &[(f64, f64)]) -> Self {
        points
            .iter()
            .enumerate()
            .fold(Self::default(), |path, (index, &(x, y))| {
                if index == 0 {
                    path.move_to(x, y)
                } else {
                    path.line_to(x, y)
                }
            })
    }

    fn add(mut self, letter: char, x: f64, y: f64) -> Self {
        self.finite &= x.is_finite() && y.is_finite();
        self.data
            .push_str(&format!("{letter}{} {}", coordinate(x), coordinate(y)));
        self
    }
}

/// The document being written. Open elements are closed in order, at the latest by [`Writer::finish`].
#[derive(Debug, Default)]
pub struct Writer {
    out: String,
    open: Vec<&'static str>,
}

impl Writer {
    /// An empty document.
    pub fn new() -> Self {
        Self::default()
    }

    /// Opens an element; what follows is inside it until [`Writer::close`].
    pub fn open(&mut self, element: Element) {
        self.out
            .push_str(&format!("<{}{}>", element.name, element.attributes));
        self.open.push(element.name);
    }

    /// Closes the innermost open element, if there is one.
    pub fn close(&mut self) {
        if let Some(name) = self.open.pop() {
            self.out.push_str(&format!("</{name}>"));
        }
    }

    /// Writes an element with nothing inside.
    pub fn empty(&mut self, element: Element) {
        if element.drawable {
            self.out
                .push_str(&format!("<{}{}/>", element.name, element.attributes));
        }
    }

    /// Writes an element with escaped text inside.
    pub fn text(&mut self, element: Element, text: &str) {
        if element.drawable {
            self.out.push_str(&format!(
                "<{0}{1}>{2}</{0}>",
                element.name,
                element.attributes,
                escape(text)
            ));
        }
    }

    /// Writes an element with content that is already fit for XML, such as a style sheet.
    pub(crate) fn verbatim(&mut self, element: Element, content: &str) {
        self.out.push_str(&format!(
            "<{0}{1}>{2}</{0}>",
            element.name, element.attributes, content
        ));
    }

    /// Closes whatever is open and gives the document.
    pub fn finish(mut self) -> String {
        while !self.open.is_empty() {
            self.close();
        }
        self.out
    }
}

/// Escapes text for element content and for attribute values in double quotes; characters that XML 1.0
/// forbids are left out.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' | '\r' | '\t' => out.push(' '),
            '\u{fffe}' | '\u{ffff}' => {}
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// Text that may serve as (the start of) an id: letters, digits, hyphen, underscore, a letter first.
pub fn safe_id(text: &str) -> String {
    let tame = |c: char| {
        if c.is_ascii_alphanumeric() || c == '-' || c == '_' {
            c
        } else {
            '-'
        }
    };
    let id: String = text.chars().map(tame).collect();
    if id.starts_with(|c: char| c.is_ascii_alphabetic()) {
        id
    } else {
        format!("figure{id}")
    }
}

fn coordinate(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_string()
    } else {
        text.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_and_attributes_are_escaped() {
        let mut writer = Writer::new();
        writer.open(Element::new("g").class("a\"b"));
        writer.text(Element::new("text").at("x", 1.50), "<b> & 'c'\u{0}\u{7}");
        assert_eq!(
            writer.finish(),
            "<g class=\"a&quot;b\"><text x=\"1.5\">&lt;b&gt; &amp; &#39;c&#39;</text></g>"
        );
    }

    #[test]
    fn elements_that_are_not_finite_vanish() {
        let mut writer = Writer::new();
        writer.empty(Element::new("circle").at("cx", f64::NAN));
        writer.empty(Element::new("path").path(&Path::through(&[(0.0, f64::INFINITY)])));
        writer.empty(Element::new("path").path(&Path::default()));
        writer.text(Element::new("text").at("y", f64::NEG_INFINITY), "x");
        assert_eq!(writer.finish(), "");
    }

    #[test]
    fn coordinates_are_short() {
        assert_eq!(coordinate(10.0), "10");
        assert_eq!(coordinate(-0.001), "0");
        assert_eq!(coordinate(1.0 / 3.0), "0.33");
    }

    #[test]
    fn ids_are_tame() {
        assert_eq!(safe_id("main curve"), "main-curve");
        assert_eq!(safe_id("7\"x"), "figure7-x");
        assert_eq!(safe_id(""), "figure");
    }
}
