//! What the costs need beside bounds of their numbers.

use super::check::{Fault, check_field, check_text};
use super::costs::{CURRENCY_LENGTH, MOST_STEPPED};
use super::{Scenario, fields};
use std::collections::BTreeSet;

/// Adds the faults of the costs; those of their plain numbers are found with all others.
pub(super) fn check(s: &Scenario, faults: &mut Vec<Fault>) {
    let Some(costs) = &s.premises.costs else {
        return;
    };
    check_text(
        "premises.costs.currency",
        &costs.currency,
        1,
        CURRENCY_LENGTH,
        faults,
    );
    if costs.stepped.len() > MOST_STEPPED {
        faults.push(Fault::Bound {
            path: "premises.costs.stepped".into(),
            value: format!("{} stepped costs", costs.stepped.len()),
            bound: format!("at most {MOST_STEPPED} stepped costs"),
        });
    }
    let mut names = BTreeSet::new();
    for (i, stepped) in costs.stepped.iter().enumerate() {
        let prefix = format!("premises.costs.stepped[{i}].");
        let path = format!("{prefix}name");
        check_text(&path, &stepped.name, 1, 100, faults);
        if !names.insert(stepped.name.trim()) {
            faults.push(Fault::Bound {
                path,
                value: format!("{:?}", stepped.name),
                bound: "a name that no other stepped cost has".into(),
            });
        }
        for field in fields::STEPPED {
            check_field(&prefix, field, stepped, faults);
        }
    }
}
