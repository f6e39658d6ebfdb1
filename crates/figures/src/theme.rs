//! Colours and the style sheet: light, dark and print, as CSS custom properties.
//!
//! Every coloured rule gives the light colour first and the custom property second, so that a program
//! that knows no custom properties still shows the light picture.

/// How many group colours (and patterns) there are before they are combined anew.
pub const GROUP_COLOURS: usize = 6;

/// The colours of one theme, as `#rrggbb`.
#[derive(Debug, Clone, Copy)]
pub struct Palette {
    /// Behind everything.
    pub paper: &'static str,
    /// Titles, labels and the whisker of the total.
    pub ink: &'static str,
    /// Tick labels, axes, rules.
    pub quiet: &'static str,
    /// Grid lines: decoration, meant to be faint.
    pub grid: &'static str,
    /// The main line.
    pub main: &'static str,
    /// The second line.
    pub second: &'static str,
    /// The preview line.
    pub preview: &'static str,
    /// The highlighted position.
    pub mark: &'static str,
    /// One per group of a stacked bar.
    pub groups: [&'static str; GROUP_COLOURS],
}

/// On light paper, and in print.
pub const LIGHT: Palette = Palette {
    paper: "#fcfbf7",
    ink: "#22302c",
    quiet: "#56635e",
    grid: "#e4e5dd",
    main: "#0e6a60",
    second: "#a6481c",
    preview: "#6f7d77",
    mark: "#6b3f86",
    groups: [
        "#2f5d8a", "#876a1a", "#7a3b5e", "#3c784b", "#5a5a66", "#a4502b",
    ],
};

/// On dark paper.
pub const DARK: Palette = Palette {
    paper: "#151b1a",
    ink: "#e9ece6",
    quiet: "#aab5af",
    grid: "#2b3432",
    main: "#5fcdb9",
    second: "#f2a679",
    preview: "#8b9893",
    mark: "#cfaee2",
    groups: [
        "#8db6e0", "#d9bd6a", "#dd9bbd", "#93cf9f", "#b9bac6", "#eba083",
    ],
};

impl Palette {
    /// Role names and colours; the custom property of a role is `--fg-` and its name.
    fn roles(&self) -> Vec<(String, &'static str)> {
        let mut roles: Vec<(String, &'static str)> = [
            ("paper", self.paper),
            ("ink", self.ink),
            ("quiet", self.quiet),
            ("grid", self.grid),
            ("main", self.main),
            ("second", self.second),
            ("preview", self.preview),
            ("mark", self.mark),
        ]
        .map(|(name, colour)| (name.to_string(), colour))
        .to_vec();
        roles.extend(
            self.groups
                .iter()
                .enumerate()
                .map(|(index, colour)| (format!("group{index}"), *colour)),
        );
        roles
    }

    fn properties(&self) -> String {
        self.roles()
            .iter()
            .map(|(name, colour)| format!("--fg-{name}:{colour};"))
            .collect()
    }
}

/// Class, property, role and further declarations.
const RULES: &[(&str, &str, &str, &str)] = &[
    ("paper", "fill", "paper", ""),
    ("title", "fill", "ink", "font-size:15px;font-weight:600"),
    ("label", "fill", "ink", "font-size:12.5px;font-weight:600"),
    ("text", "fill", "quiet", "font-size:12px"),
    ("legend", "fill", "ink", "font-size:12px"),
    ("large", "fill", "ink", "font-size:15px"),
    ("tag", "fill", "mark", "font-size:12px;font-weight:600"),
    ("grid", "stroke", "grid", "stroke-width:1;fill:none"),
    ("axis", "stroke", "quiet", "stroke-width:1;fill:none"),
    ("cross", "stroke", "second", "stroke-width:2.5;fill:none"),
    ("rule", "stroke", "quiet", "stroke-width:1.25;fill:none"),
    ("leader", "stroke", "quiet", "stroke-width:0.75;fill:none"),
    (
        "main",
        "stroke",
        "main",
        "stroke-width:2.5;fill:none;stroke-linejoin:round",
    ),
    (
        "second",
        "stroke",
        "second",
        "stroke-width:2;fill:none;stroke-dasharray:6 4",
    ),
    (
        "preview",
        "stroke",
        "preview",
        "stroke-width:1.75;fill:none;stroke-dasharray:0.1 4;stroke-linecap:round",
    ),
    (
        "main-spread",
        "stroke",
        "main",
        "stroke-width:1.5;fill:none",
    ),
    (
        "second-spread",
        "stroke",
        "second",
        "stroke-width:1.5;fill:none",
    ),
    (
        "preview-spread",
        "stroke",
        "preview",
        "stroke-width:1;fill:none",
    ),
    ("main-band", "fill", "main", "fill-opacity:.16"),
    ("second-band", "fill", "second", "fill-opacity:.16"),
    ("preview-band", "fill", "preview", "fill-opacity:.12"),
    ("halo", "stroke", "paper", "stroke-width:3.75;fill:none"),
    ("total", "stroke", "ink", "stroke-width:1.75;fill:none"),
    ("mark", "stroke", "mark", "stroke-width:1.25;fill:none"),
    ("ring", "stroke", "mark", "stroke-width:2;fill:none"),
    ("mark-band", "fill", "mark", "fill-opacity:.1"),
    ("mark-fill", "fill", "mark", ""),
];

/// The style sheet that every figure carries. All selectors sit under the class `fg` of the root element,
/// so it may also be put once into a page that shows many figures.
pub fn stylesheet() -> String {
    let (light, dark) = (LIGHT.properties(), DARK.properties());
    let mut css = format!(
        ".fg{{{light}font-family:system-ui,-apple-system,'Segoe UI',Roboto,'Noto Sans',Helvetica,Arial,sans-serif;\
         font-variant-numeric:tabular-nums}}\
         @media (prefers-color-scheme:dark){{.fg{{{dark}}}}}\
         [data-theme=light] .fg,.fg[data-theme=light]{{{light}}}\
         [data-theme=dark] .fg,.fg[data-theme=dark]{{{dark}}}\
         @media print{{.fg,[data-theme] .fg,.fg[data-theme]{{{light}}}}}"
    );
    let roles = LIGHT.roles();
    let mut rule = |class: &str, property: &str, role: &str, more: &str| {
        let fallback = roles
            .iter()
            .find(|(name, _)| name == role)
            .map_or("#000000", |(_, colour)| colour);
        css.push_str(&format!(
            ".fg .fg-{class}{{{property}:{fallback};{property}:var(--fg-{role});{more}}}"
        ));
    };
    for (class, property, role, more) in RULES {
        rule(class, property, role, more);
    }
    for index in 0..GROUP_COLOURS {
        let role = format!("group{index}");
        rule(&format!("fill{index}"), "fill", &role, "");
        rule(&format!("tint{index}"), "fill", &role, "fill-opacity:.2");
        rule(
            &format!("edge{index}"),
            "stroke",
            &role,
            "stroke-width:1.25",
        );
        rule(
            &format!("hatch{index}"),
            "stroke",
            &role,
            "stroke-width:1.6;fill:none",
        );
    }
    rule(
        "main-dot",
        "fill",
        "main",
        "stroke:#fcfbf7;stroke:var(--fg-paper);stroke-width:1.25",
    );
    rule(
        "second-dot",
        "stroke",
        "second",
        "fill:#fcfbf7;fill:var(--fg-paper);stroke-width:1.75",
    );
    rule(
        "preview-dot",
        "stroke",
        "preview",
        "fill:#fcfbf7;fill:var(--fg-paper);stroke-width:1.25",
    );
    rule("spot:hover .fg-hit", "stroke", "ink", "stroke-width:1.25");
    css.push_str(".fg .fg-hit{fill:none;pointer-events:all}");
    css.push_str(".fg .fg-dash1{stroke-dasharray:9 3}.fg .fg-dash2{stroke-dasharray:9 3 2 3}.fg .fg-dash3{stroke-dasharray:1.5 3}");
    css.push_str(".fg .fg-close{stroke-width:.75}");
    css.push_str(".fg .fg-middle{text-anchor:middle}.fg .fg-end{text-anchor:end}");
    css
}

#[cfg(test)]
mod tests {
    use super::{DARK, LIGHT, RULES, stylesheet};

    /// `x^2.4`, the exponent of sRGB, from a fifth root by Newton's method: `x^2.4 = x^2 (x^2)^(1/5)`.
    fn to_the_2_4(x: f64) -> f64 {
        let square = x * x;
        let mut root = 1.0;
        for _ in 0..200 {
            root -= (root * root * root * root * root - square) / (5.0 * root * root * root * root);
        }
        square * root
    }

    /// Relative luminance, WCAG 2.2.
    fn luminance(hex: &str) -> f64 {
        let channel = |start: usize| {
            let value = f64::from(u8::from_str_radix(&hex[start..start + 2], 16).unwrap()) / 255.0;
            if value <= 0.04045 {
                value / 12.92
            } else {
                to_the_2_4((value + 0.055) / 1.055)
            }
        };
        0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
    }

    fn contrast(a: &str, b: &str) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn contrast_is_computed_rightly() {
        assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
        // The well-known lightest grey that passes AA on white.
        assert!((contrast("#767676", "#ffffff") - 4.54).abs() < 0.005);
    }

    #[test]
    fn text_and_marks_stand_out_on_both_papers() {
        for palette in [LIGHT, DARK] {
            for text in [palette.ink, palette.quiet, palette.mark] {
                assert!(contrast(text, palette.paper) >= 4.5, "text {text}");
            }
            for mark in [
                palette.main,
                palette.second,
                palette.preview,
                palette.quiet,
                palette.mark,
            ] {
                assert!(contrast(mark, palette.paper) >= 3.0, "mark {mark}");
            }
            for mark in palette.groups {
                assert!(contrast(mark, palette.paper) >= 3.0, "group {mark}");
            }
        }
    }

    #[test]
    fn sizes_are_readable_and_roles_exist() {
        for (class, _, role, more) in RULES {
            assert!(
                LIGHT.roles().iter().any(|(name, _)| name == role),
                "{class} has no role {role}"
            );
            if let Some((_, size)) = more.split_once("font-size:") {
                let size: f64 = size.split("px").next().unwrap().parse().unwrap();
                assert!(size >= 11.0, "{class}");
            }
        }
    }

    #[test]
    fn the_sheet_can_stand_inside_xml() {
        let css = stylesheet();
        assert!(!css.contains(['<', '&']) && !css.contains("]]>"));
        assert_eq!(css.matches('{').count(), css.matches('}').count());
        for needed in [
            "prefers-color-scheme:dark",
            "[data-theme=dark] .fg",
            "[data-theme=light] .fg",
            "@media print",
        ] {
            assert!(css.contains(needed), "{needed}");
        }
    }
}
