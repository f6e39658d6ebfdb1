//! Answers of small scenarios.

use crate::simulate::replicates;
use survey::scenario::{Checked, Premise, Scenario, Source, read};
use survey::summary::{Answer, Evidence, summarise};

/// A demo by its file name.
pub fn demo(name: &str) -> Scenario {
    let path = crate::project("demo-data").join(name);
    read(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// An invented premise.
pub fn invented(value: f64) -> Premise {
    Premise::new(value, Source::Invented)
}

/// No spread of sites, years and traps, no losses.
pub fn without_spread(s: &mut Scenario) {
    let t = &mut s.premises.target;
    for sd in [
        &mut t.site_sd,
        &mut t.year_sd,
        &mut t.site_year_sd,
        &mut t.trap_sd,
        &mut s.premises.trap_loss,
    ] {
        *sd = invented(0.0);
    }
}

/// The scenario, checked.
pub fn checked(s: Scenario) -> Checked {
    s.check().unwrap_or_else(|f| panic!("{f:?}"))
}

/// The answer from `n` surveys in each world.
pub fn answer(s: &Checked, n: u64) -> Answer {
    let (change, still) = replicates(s, 3, n);
    summarise(s, &s.plan, &Evidence::whole(&change, &still))
}

/// The share of surveys under another test.
pub fn by(a: &Answer, test: &str) -> (f64, f64) {
    let of = a.comparison.iter().find(|c| c.test == test).unwrap();
    (of.power.estimate, of.false_alarm.estimate)
}
