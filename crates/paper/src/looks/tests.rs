use super::*;
use survey::looks::{looks_plan, looks_preview};
use survey::scenario::{LookFutility, read};
use survey::summary::{Evidence, analysed_years, looks_answer};

fn scenario(direction: Direction, futility: bool) -> survey::scenario::Checked {
    let mut s = read(include_str!("../../../../demo-data/meadow-beetles.json")).unwrap();
    s.question.direction = direction;
    s.plan.looks = Some(Looks {
        after_years: vec![4, 7],
        boundary: LookBoundary::SpendPocock,
        futility: futility.then_some(LookFutility {
            rule: FutilityRule::ConditionalPower(0.1),
            binding: false,
        }),
    });
    s.check().unwrap()
}

fn nothing_simulated(s: &survey::scenario::Checked) -> LooksAnswer {
    let plan = looks_plan(s).unwrap();
    let preview = looks_preview(s, &plan);
    let evidence: Vec<Evidence> = analysed_years(s)
        .iter()
        .map(|_| Evidence {
            change: vec![],
            still: vec![],
            complete: false,
        })
        .collect();
    looks_answer(s, &plan, &preview, &evidence)
}

/// Before anything is simulated the closed forms are told, and nothing else is made up.
#[test]
fn closed_forms_alone() {
    for direction in [Direction::Either, Direction::Stated] {
        for futility in [false, true] {
            let s = scenario(direction, futility);
            let a = nothing_simulated(&s);
            let table = looks_table(&s, &a);
            assert_eq!(table.rows.len(), 3);
            assert!(table.rows.iter().all(|r| r.len() == table.headers.len()));
            assert_eq!(table.headers.len(), if futility { 11 } else { 8 });
            assert!(toll_table(&s, &a).is_none());
            let all = told(&s, &a).join(" ");
            assert!(
                all.contains("not simulated yet") && !all.contains("NaN"),
                "{all}"
            );
            let rules = rules(&s, &a);
            assert!(rules[0].starts_with("After year 4, stop") && rules[0].contains("2 degrees"));
            assert!(rules[2].contains("10, the last") && rules[2].ends_with("else not found."));
            let svg = figure(&s, &a).svg();
            assert!(svg.contains("stop, found") && !svg.contains("NaN"));
            assert_eq!(csv(&a).lines().count(), 4);
        }
    }
}

#[test]
fn looks_in_words() {
    let s = scenario(Direction::Either, true);
    let text = asked(&s, s.plan.looks.as_ref().unwrap());
    assert!(text.starts_with("Looks after 4, 7 and 10 years;"), "{text}");
    assert!(text.contains("not binding"));
}
