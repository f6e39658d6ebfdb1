use super::*;
use survey::scenario::{Checked, read};
use survey::stop_lines::{RULES, stop_plan, usual};

fn demo(key: &str) -> (Checked, StopPlan) {
    let text = include_str!("../../../../demo-data/orchard-baseline.json");
    let mut s = read(text).unwrap();
    s.title = "Orchards <& \"gardens\">".into();
    s.plan.stop_rule = usual(&s, key);
    let s = s.check().unwrap();
    let plan = stop_plan(&s).unwrap();
    (s, plan)
}

/// Each row of the card is a sample; every stop total of the plan stands on it; nothing comes from elsewhere.
#[test]
fn the_card_stands_alone() {
    for key in RULES {
        let (s, plan) = demo(key);
        let card = card(&s, &plan);
        let rows = card.matches("☐ stop ☐ go on").count();
        assert_eq!(rows, plan.rule.most_samples() as usize, "{key}");
        for t in &plan.table {
            for total in [t.at_most, t.at_least].into_iter().flatten() {
                assert!(card.contains(&format!("<td>{total}</td>")), "{key} {total}");
            }
        }
        assert!(card.contains("Orchards &lt;&amp; &quot;gardens&quot;&gt;"));
        for foreign in ["<script", "http", "src=", "url("] {
            assert!(!card.contains(foreign), "{foreign}");
        }
        let low = key == "probability_ratio";
        assert_eq!(card.contains("stop: low, at or below"), low);
    }
}

#[test]
fn tables_and_picture_tell_the_same_totals() {
    for key in RULES {
        let (s, plan) = demo(key);
        assert_eq!(csv(&plan).lines().count(), 1 + plan.table.len());
        let picture = figure(&s, &plan);
        assert_eq!(picture.steps.len(), plan.table.len());
        let shown = picture.table();
        let last = plan.table.last().unwrap();
        let want = last.at_least.unwrap().to_string();
        assert_eq!(shown.rows.last().unwrap().last(), Some(&want));
        let means = means(&plan);
        assert!(means.rows.iter().all(|r| r.len() == means.headers.len()));
        assert_eq!(fixed(&plan).rows.len(), plan.fixed.len());
    }
}

/// The sentences name the rule's own numbers and the animals that are spared.
#[test]
fn sentences() {
    let (s, plan) = demo("green");
    assert!(rule(&plan).contains("25 % of it"), "{}", rule(&plan));
    assert!(rule(&plan).contains("after 60 samples"));
    let of = sample(&s, &plan);
    assert!(
        of.contains("the 2 traps of one site in one visit of 2 days"),
        "{of}"
    );
    let told = verdict(&plan).unwrap();
    assert!(
        told.contains("samples fixed beforehand") && told.contains("animals"),
        "{told}"
    );
    let (_, test) = demo("probability_ratio");
    assert!(
        rule(&test).contains("10 % of rounds say high"),
        "{}",
        rule(&test)
    );
    assert!(verdict(&test).unwrap().contains("decide for high"));
    for (v, want) in [
        (0.0456, "0.046"),
        (1.5, "1.5"),
        (123.4, "123"),
        (100.0, "100"),
    ] {
        assert_eq!(short(v), want);
    }
}

/// The demo's question wants 30 % either way with 95 % confidence: a standard error of 30/1.96 = 15.3 %.
#[test]
fn a_rule_looser_than_the_question_and_larger_than_the_plan_is_told() {
    let (s, plan) = demo("green");
    let told = warnings(&s, &plan);
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(
        told[0].contains("60 samples where the plan has 48 sites"),
        "{}",
        told[0]
    );
    assert!(told[1].contains("asks for about 15 %"), "{}", told[1]);
    // A test of low or high has no precision of its own.
    let (s, test) = demo("probability_ratio");
    assert!(
        warnings(&s, &test)
            .iter()
            .all(|w| !w.contains("standard error"))
    );
}
