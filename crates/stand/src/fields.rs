//! Which fields a scenario has.

use engine::scenario::Scenario;
use engine::scenario::fields::find;

/// Whether a scenario has the number at a path. Paths that are none of its numbers are always there.
pub fn has_field(s: &Scenario, path: &str) -> bool {
    if let Some(field) = find(path) {
        return (field.read)(s).is_some();
    }
    let p = &s.premises;
    let lists = [
        ("premises.bycatch[", p.bycatch.len()),
        ("premises.others[", p.others.len()),
        ("premises.trap_options[", p.trap_options.len()),
        (
            "premises.costs.stepped[",
            p.costs.as_ref().map_or(0, |c| c.stepped.len()),
        ),
    ];
    let found = lists.iter().find_map(|(list, length)| {
        let (at, _) = path.strip_prefix(list)?.split_once(']')?;
        Some(at.parse::<usize>().is_ok_and(|at| at < *length))
    });
    found.unwrap_or(true)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_field_is_there_while_the_scenario_has_its_number() {
        let s = engine::scenario::read(crate::demos::DEMOS[0].1).expect("a demo");
        let last = s.premises.bycatch.len() - 1;
        assert!(
            has_field(&s, "plan.sites") && has_field(&s, "limits.years") && has_field(&s, "seed")
        );
        assert!(has_field(&s, "question.effect.decline.change_percent"));
        assert!(!has_field(&s, "question.effect.no_worse.margin_percent"));
        assert!(has_field(&s, &format!("premises.bycatch[{last}].site_sd")));
        assert!(!has_field(
            &s,
            &format!("premises.bycatch[{}].site_sd", last + 1)
        ));
    }
}
