//! The figure as a whole: well formed, finite and honest whatever goes in.

use super::*;
use crate::xml_check::check;

/// A figure like the page shows, with three pending positions.
pub(crate) fn sample(width: f64) -> PairedPanels {
    let done = [4.0, 8.0, 12.0, 16.0, 20.0, 24.0, 28.0];
    let all = [4.0, 8.0, 12.0, 16.0, 20.0, 24.0, 28.0, 32.0, 36.0, 40.0];
    let rise = |x: f64| x * x / (x * x + 160.0);
    let point = |x: f64, y: f64, reach: f64| Point {
        x,
        y,
        low: Some(y - reach),
        high: Some(y + reach),
    };
    let line = |label: &str, style, points| Line {
        label: label.into(),
        style,
        spread: Spread::Bars,
        points,
    };
    PairedPanels {
        id: "curve".into(),
        title: "Chance to find the decline, and what the survey kills".into(),
        show_title: true,
        description:
            "Power rises with sites and passes 80 % at 28 sites; the toll rises in proportion."
                .into(),
        x_label: "sites".into(),
        upper_label: "Chance that the survey finds a decline".into(),
        lower_label: "Animals killed over the whole survey".into(),
        total_label: "all animals, 90 % range".into(),
        lines: vec![
            line(
                "power",
                LineStyle::Main,
                done.iter()
                    .map(|&x| point(x, rise(x) + 0.01, 0.045))
                    .collect(),
            ),
            line(
                "false alarms",
                LineStyle::Second,
                done.iter()
                    .map(|&x| point(x, 0.05 + 0.02 / x, 0.02))
                    .collect(),
            ),
            line(
                "quick estimate, not yet simulated",
                LineStyle::Preview,
                all.iter()
                    .map(|&x| Point {
                        x,
                        y: rise(x),
                        low: None,
                        high: None,
                    })
                    .collect(),
            ),
        ],
        rules: vec![
            Rule {
                label: "wanted power".into(),
                y: 0.8,
            },
            Rule {
                label: "nominal level".into(),
                y: 0.05,
            },
        ],
        columns: done
            .iter()
            .map(|&x| Column {
                x,
                parts: vec![41.0 * x, 17.0 * x, 9.0 * x, 4.0 * x],
                low: 58.0 * x,
                high: 88.0 * x,
            })
            .collect(),
        groups: [
            "ground beetles (target)",
            "other beetles",
            "spiders",
            "wild bees",
        ]
        .map(|label| Group {
            label: label.into(),
        })
        .to_vec(),
        highlight: Some((12.0, "this plan: 12 sites".into())),
        width,
        height: 560.0,
    }
}

fn assert_sound(figure: &PairedPanels) -> String {
    let svg = figure.svg();
    check(&svg);
    check(&figure.svg_unstyled());
    check(&figure.table().html());
    let drawing = &svg[svg.find("</style>").unwrap()..];
    for bad in ["NaN", "inf"] {
        assert!(!drawing.contains(bad), "{bad} in {drawing}");
    }
    let table = figure.table();
    assert!(
        table
            .rows
            .iter()
            .all(|row| row.len() == table.headers.len())
    );
    svg
}

#[test]
fn is_well_formed_and_named_at_every_width() {
    for width in [
        0.0,
        280.0,
        340.0,
        559.0,
        560.0,
        700.0,
        1100.0,
        1e9,
        f64::NAN,
    ] {
        let svg = assert_sound(&sample(width));
        assert!(svg.contains("role=\"img\" aria-labelledby=\"curve-title\""));
        assert!(svg.contains("<title id=\"curve-title\">Chance to find"));
        assert!(svg.contains("<desc id=\"curve-description\">Power rises"));
    }
}

#[test]
fn every_point_tells_its_numbers() {
    let svg = sample(700.0).svg();
    assert!(
        svg.contains("sites 12: power 48.4 % (43.9 % to 52.9 %)"),
        "{svg}"
    );
    assert!(svg.contains("ground beetles (target) 492; other beetles 204; spiders 108; wild bees 48; total 852 (696 to 1,056)"));
    assert_eq!(svg.matches("class=\"fg-hit\"").count(), 7 + 7 + 3 + 7);
}

#[test]
fn labels_are_escaped() {
    let mut figure = sample(340.0);
    figure.id = "a b\"><".into();
    for label in [
        &mut figure.title,
        &mut figure.description,
        &mut figure.x_label,
        &mut figure.total_label,
    ] {
        *label = "<script>alert('x')</script> & \"more\"\u{0}".into();
    }
    figure.groups[0].label = "<&>".into();
    figure.lines[0].label = "]]><!--".into();
    figure.rules[0].label = "\"&".into();
    figure.highlight = Some((8.0, "<b>".into()));
    assert!(!assert_sound(&figure).contains("<script"));
}

#[test]
fn two_figures_share_no_id() {
    let (first, mut second) = (sample(700.0), sample(700.0));
    second.id = "other".into();
    check(&format!("<div>{}{}</div>", first.svg(), second.svg()));
}

#[test]
fn nothing_in_gives_an_empty_frame() {
    let mut figure = sample(500.0);
    (figure.lines, figure.rules, figure.columns, figure.groups) = (vec![], vec![], vec![], vec![]);
    figure.highlight = None;
    assert!(assert_sound(&figure).contains("nothing to show yet"));
    assert!(figure.table().rows.is_empty());
    assert_eq!(figure.csv(), "sites\r\n");
    assert!(figure.positions().is_empty());
}

#[test]
fn one_single_position_is_in_the_middle() {
    let mut figure = sample(700.0);
    for line in &mut figure.lines {
        line.points.truncate(1);
    }
    figure.columns.truncate(1);
    figure.highlight = None;
    assert_sound(&figure);
    assert_eq!(figure.positions().len(), 1);
    let x = figure.positions()[0].1;
    assert!(x > 200.0 && x < 450.0, "{x}");
}

#[test]
fn what_is_not_finite_is_left_out_and_said() {
    let mut figure = sample(700.0);
    figure.lines[0].points[1].y = f64::NAN;
    figure.lines[0].points[2].x = f64::INFINITY;
    figure.lines[0].points[3].high = Some(f64::NAN);
    figure.lines[1].points[0].low = Some(f64::NEG_INFINITY);
    figure.columns[0].parts[1] = f64::NAN;
    figure.columns[1].high = f64::INFINITY;
    figure.columns[2].parts.pop();
    figure.columns[3].x = f64::NAN;
    figure.rules[0].y = f64::NAN;
    figure.highlight = Some((f64::NAN, "nowhere".into()));
    figure.height = f64::INFINITY;
    let svg = assert_sound(&figure);
    assert!(!svg.contains("nowhere") && !svg.contains("wanted power"));
    let table = figure.table();
    assert_eq!(table.rows[1][1..4], ["not available"; 3]);
    assert!(
        figure
            .csv()
            .lines()
            .all(|line| !line.contains("NaN") && !line.contains("inf"))
    );
}

#[test]
fn huge_and_tiny_numbers_survive() {
    for size in [1e-300, 1e-9, 1e9, 1e300, f64::MAX] {
        let mut figure = sample(340.0);
        for column in &mut figure.columns {
            column.x *= size;
            column.parts = vec![size; 4];
            column.high = size;
        }
        assert_sound(&figure);
    }
}

#[test]
fn table_and_csv_hold_the_same_rows() {
    let figure = sample(700.0);
    let (table, csv) = (figure.table(), figure.csv());
    assert_eq!(table.rows.len(), 10);
    assert_eq!(csv.lines().count(), 11);
    assert_eq!(
        table.rows[2][..4],
        ["12", "48.4 %", "43.9 %", "52.9 %"].map(String::from)
    );
    assert!(
        csv.contains("\r\n12,0.4836842105,0.4386842105,0.5286842105,"),
        "{csv}"
    );
    assert!(csv.starts_with("sites,power (share of 1),\"power, low (share of 1)\""));
    assert!(
        table.rows[9]
            .iter()
            .filter(|cell| *cell == "not available")
            .count()
            >= 6
    );
    assert!(
        table.caption.contains("wanted power 80 %")
            && table.caption.contains("this plan: 12 sites")
    );
}

#[test]
fn higher_shares_are_drawn_higher_and_larger_x_further_right() {
    let positions = sample(700.0).positions();
    assert!(positions.windows(2).all(|pair| pair[0].1 < pair[1].1));
    let frame = frame::Frame::plan(&sample(700.0));
    assert!(frame.upper.y.at(0.9) < frame.upper.y.at(0.1));
    assert!(frame.upper.bottom() < frame.lower.top());
}

/// Sixty unevenly spaced positions, bands, seven groups, long labels, neighbouring rules.
fn crowded(width: f64) -> PairedPanels {
    let mut figure = sample(width);
    let xs: Vec<f64> = (1..=60)
        .map(|n| f64::from(n) * 2.0 + f64::from(n % 3) * 0.25)
        .collect();
    let rise = |x: f64| x / (x + 30.0);
    let point = |x: f64, y: f64, reach: f64| Point {
        x,
        y,
        low: Some(y - reach),
        high: Some(y + reach),
    };
    figure.id = "crowded".into();
    figure.lines[0].spread = Spread::Band;
    figure.lines[1].spread = Spread::Band;
    figure.lines[0].points = xs.iter().map(|&x| point(x, rise(x), 0.05)).collect();
    figure.lines[0].points[20].y = f64::NAN;
    figure.lines[1].points = xs.iter().map(|&x| point(x, 0.06, 0.02)).collect();
    figure.lines[2].points = xs
        .iter()
        .map(|&x| Point {
            x,
            y: rise(x),
            low: None,
            high: None,
        })
        .collect();
    figure.rules = [
        ("wanted power of the grant", 0.03),
        ("nominal level of false alarms", 0.05),
        ("chance", 0.06),
    ]
    .map(|(label, y)| Rule {
        label: label.into(),
        y,
    })
    .to_vec();
    figure.groups = [
        "ground beetles",
        "rove beetles",
        "spiders",
        "wild bees",
        "true flies that are not hoverflies",
        "ants",
        "others",
    ]
    .map(|label| Group {
        label: label.into(),
    })
    .to_vec();
    figure.columns = xs
        .iter()
        .map(|&x| Column {
            x,
            parts: vec![1e4 * x; 7],
            low: 6e4 * x,
            high: 8e4 * x,
        })
        .collect();
    figure.highlight = Some((
        119.0,
        "the least plan that meets the target: 119 sites, four traps each".into(),
    ));
    figure
}

#[test]
fn a_crowded_figure_is_sound() {
    for width in [280.0, 340.0, 700.0, 1100.0] {
        let svg = assert_sound(&crowded(width));
        // The seventh group wears the first pattern in another colour.
        assert!(svg.contains("fg-edge1 fg-fill1"));
    }
}

#[test]
fn a_whisker_that_is_nowhere_is_not_explained() {
    let mut figure = sample(760.0);
    assert!(figure.svg().contains("all animals, 90 % range"));
    for column in &mut figure.columns {
        (column.low, column.high) = (f64::NAN, f64::NAN);
    }
    assert!(!figure.svg().contains("all animals, 90 % range"));
}
