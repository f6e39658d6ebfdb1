//! The card for the field: black on white, with boxes to tick, as a page that stands alone.

use super::{CAUTIONS, name, rule, sample, sources};
use crate::sentences;
use figures::svg::escape;
use survey::scenario::{Scenario, StopRule};
use survey::stop_lines::{StopPlan, StopTotals};

const STYLE: &str = "body{font:11pt/1.35 Arial,Helvetica,sans-serif;color:#000;background:#fff;margin:12mm;max-width:190mm}\
h1{font-size:15pt;margin:0 0 2mm}p,ul{margin:0 0 2.5mm}ul{padding-left:5mm}\
.blank{border-bottom:1px solid #000;display:inline-block;min-width:42mm}\
table{border-collapse:collapse;width:100%}caption{text-align:left;font-weight:bold;margin-bottom:1mm}\
th,td{border:1px solid #000;padding:1.2mm 2mm;text-align:right}thead{display:table-header-group}\
tr{break-inside:avoid}.write{min-width:22mm}.box{text-align:center}.small{font-size:9pt}\
@media print{body{margin:0;max-width:none}}@page{margin:12mm}";

/// The card as HTML: no scripts, nothing from elsewhere.
pub fn card(scenario: &Scenario, plan: &StopPlan) -> String {
    let title = escape(&scenario.title);
    let cautions: String = CAUTIONS
        .iter()
        .map(|c| format!("<li>{}</li>", escape(c)))
        .collect();
    let lines = [
        "<!doctype html>".into(),
        "<html lang=\"en\"><head><meta charset=\"utf-8\">".into(),
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">".into(),
        format!("<title>Stop-line card: {title}</title><style>{STYLE}</style></head><body>"),
        format!("<h1>Stop-line card: {title}</h1>"),
        "<p>Date <span class=\"blank\"></span> Observer <span class=\"blank\"></span> Round <span class=\"blank\"></span></p>".into(),
        format!(
            "<p><strong>Question.</strong> {}</p>",
            escape(&sentences::question(scenario))
        ),
        format!(
            "<p><strong>Rule: {}.</strong> {}</p>",
            escape(name(&plan.rule)),
            escape(&rule(plan))
        ),
        format!("<p class=\"small\">{}</p>", escape(&sample(scenario, plan))),
        format!("<ul>{cautions}</ul>"),
        table(plan),
        format!(
            "<p class=\"small\">{} A planning aid only: local law, the ethics body and qualified people decide.</p>",
            escape(sources(&plan.rule))
        ),
        "</body></html>\n".into(),
    ];
    lines.join("\n")
}

/// One line for each sample, those before the first look at the line too.
fn table(plan: &StopPlan) -> String {
    let test = matches!(plan.rule, StopRule::ProbabilityRatio(_));
    let heads = if test {
        vec!["stop: low, at or below", "stop: high, at or above"]
    } else {
        vec!["stop at or above"]
    };
    let heads: String = ["sample", "site", "caught", "total so far"]
        .into_iter()
        .chain(heads)
        .chain(["tick"])
        .map(|h| format!("<th scope=\"col\">{h}</th>"))
        .collect();
    let total = |v: Option<u64>| v.map_or("—".to_string(), |v| v.to_string());
    let first = plan.table.first().map_or(1, |t| t.samples);
    let before = (1..first).map(|samples| StopTotals {
        samples,
        at_most: None,
        at_least: None,
    });
    let rows: String = before
        .chain(plan.table.iter().copied())
        .map(|t| {
            let lower = if test {
                format!("<td>{}</td>", total(t.at_most))
            } else {
                String::new()
            };
            let write = "<td class=\"write\"></td>".repeat(3);
            format!(
                "<tr><th scope=\"row\">{}</th>{write}{lower}<td>{}</td><td class=\"box\">☐ stop ☐ go on</td></tr>",
                t.samples,
                total(t.at_least)
            )
        })
        .collect();
    format!(
        "<table><caption>The total so far against the line</caption><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"
    )
}
