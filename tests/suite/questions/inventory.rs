//! Inventories: closed form against simulated surveys, what surveys claim of themselves, and what the pilot tells.

use leastcatch_tests::small::{answer, checked, demo, invented};
use models::inventory::gain::{Gain, Stratum};
use survey::closed_form::preview;
use survey::inventory::{Pilot, report};
use survey::scenario::{
    Effect, Incidences, Inventory, Recorded, Scenario, SpeciesCount, TrapPoints,
};

fn wanting(of: Recorded, wanted_share: f64, sites: u32) -> Scenario {
    let mut s = demo("meadow-inventory.json");
    s.question.effect = Effect::Inventory(Inventory { wanted_share, of });
    s.plan.sites = sites;
    s.limits.sites = s.limits.sites.max(sites);
    s
}

/// The same pilot as if each trap-week had been a sample, common species in fewer of them than they had individuals.
fn by_samples(mut s: Scenario, trap_weeks_per_sample: f64) -> Scenario {
    let community = s.premises.community.as_mut().unwrap();
    let mut species: Vec<SpeciesCount> = Vec::new();
    for found in community.strata.iter().flat_map(|s| &s.species) {
        match species.iter_mut().find(|s| s.name == found.name) {
            Some(s) => s.count = (s.count + found.count).min(96),
            None => species.push(found.clone()),
        }
    }
    community.strata.clear();
    community.incidences = Some(Incidences {
        samples: 96,
        trap_weeks_per_sample,
        species,
    });
    s
}

/// Coverage and species, individuals and samples, one year and several, years and clumps that scatter the total.
#[test]
fn closed_form_as_simulated() {
    use Recorded::{Coverage, Species};
    let mut years = wanting(Coverage, 0.96, 3);
    years.plan.years = 3;
    years.premises.target.year_sd = invented(0.5);
    years.premises.target.trap_sd = invented(0.8);
    years.plan.trap_points = TrapPoints::NewEachYear;
    let mut clumped = wanting(Coverage, 0.97, 12);
    clumped.premises.target.year_sd = invented(0.8);
    clumped.premises.target.dispersion_k = invented(0.2);
    for s in [
        wanting(Coverage, 0.9, 3),
        wanting(Coverage, 0.97, 10),
        wanting(Coverage, 0.985, 25),
        wanting(Species, 0.6, 12),
        wanting(Species, 0.75, 25),
        by_samples(wanting(Coverage, 0.977, 11), 1.0),
        by_samples(wanting(Species, 0.66, 28), 2.5),
        years,
        clumped,
    ] {
        let s = checked(s);
        let a = answer(&s, 3000);
        let p = preview(&s, &s.plan);
        assert!(p.power > 0.2 && p.power < 0.98, "{p:?} {:?}", s.question);
        let error = 3.0 * (p.power * (1.0 - p.power) / 3000.0f64).sqrt() + 0.02;
        assert!(
            (a.power.estimate - p.power).abs() < error,
            "{:?}: {:?} {p:?}",
            s.question,
            a.power
        );
        let smallest = a.smallest_change.unwrap();
        assert_eq!((a.question, smallest.unit), ("inventory", "share"));
        let step = 0.02;
        assert!(
            (smallest.estimate - p.smallest_change).abs() < step,
            "{smallest:?} {p:?}"
        );
        assert!(a.comparison.is_empty() && a.no_worse.is_none());
        // A survey that claims falsely has not reached the share.
        assert!(a.false_alarm.estimate <= 1.0 - a.power.estimate + 0.04);
    }
}

/// Coverage is estimated without bias (Good 1953; Chao & Jost 2012); the share of species is not: Chao1 is a lower bound,
/// so that small surveys claim too much.
#[test]
fn what_surveys_claim_of_themselves() {
    let coverage = answer(&checked(wanting(Recorded::Coverage, 0.97, 10)), 2000);
    assert!(coverage.bias.abs() < 0.003, "{}", coverage.bias);
    assert!(coverage.false_alarm.estimate > 0.02);
    let species = answer(&checked(wanting(Recorded::Species, 0.6, 3)), 2000);
    assert!(species.bias > 0.1, "{}", species.bias);
    assert!(species.false_alarm.low > 0.3, "{:?}", species.false_alarm);
}

/// What is believed is what is drawn: mean coverage by the shares, mean species by the chances to be caught.
#[test]
fn surveys_are_drawn_from_the_community_believed_in() {
    let mut s = wanting(Recorded::Coverage, 0.9, 8);
    for sd in [
        &mut s.premises.target.site_sd,
        &mut s.premises.target.year_sd,
        &mut s.premises.target.site_year_sd,
        &mut s.premises.target.trap_sd,
        &mut s.premises.trap_loss,
    ] {
        *sd = invented(0.0);
    }
    s.premises.target.dispersion_k = invented(1e5);
    let pilot = Pilot::of(s.premises.community.as_ref().unwrap()).unwrap();
    let s = checked(s);
    let total = survey::closed_form::expected_toll(&s, &s.plan).target;
    // Poisson totals make the species' counts Poisson and apart from each other (k = 1e5 is nearly so).
    let shares: Vec<f64> = pilot.believed().all().collect();
    assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-9);
    let want: f64 = shares.iter().map(|p| p * (1.0 - (-p * total).exp())).sum();
    let a = answer(&s, 4000);
    let (change, _) = leastcatch_tests::simulate::replicates(&s, 3, 4000);
    let mean = change.iter().map(|r| r.finding.estimate).sum::<f64>() / 4000.0;
    let error = 4.0 * a.estimate_sd / 4000.0f64.sqrt();
    assert!((mean - want).abs() < error, "{mean} {want} {error}");
}

/// The gain table is that of the model for the pilot's strata, ranked by new species for each animal.
#[test]
fn gains_are_the_models() {
    let s = checked(demo("meadow-inventory.json"));
    let told = report(&s, 12).unwrap();
    let community = s.premises.community.as_ref().unwrap();
    let names: std::collections::BTreeSet<&str> = community
        .strata
        .iter()
        .flat_map(|s| s.species.iter().map(|x| x.name.as_str()))
        .collect();
    let strata: Vec<Stratum> = community
        .strata
        .iter()
        .map(|of| Stratum {
            counts: names
                .iter()
                .map(|n| {
                    let found = of.species.iter().find(|x| x.name == **n);
                    found.map_or(0, |x| u64::from(x.count))
                })
                .collect(),
            trap_weeks: of.trap_weeks,
            killed_per_trap_week: of.killed_per_trap_week,
        })
        .collect();
    let gain = Gain::new(&strata).unwrap();
    let want = gain.next_trap_week(0.95);
    assert_eq!(told.next_trap_week.len(), want.len());
    for (got, want) in told.next_trap_week.iter().zip(&want) {
        assert_eq!(got.stratum, community.strata[want.stratum].name);
        assert!((got.new_species.estimate - want.new_species).abs() < 1e-12);
        assert!((got.species_per_animal.unwrap() - want.species_per_animal).abs() < 1e-12);
    }
    for a in &told.further {
        let weeks: Vec<f64> = a.trap_weeks.iter().map(|(_, n)| f64::from(*n)).collect();
        assert!((gain.new_species(&weeks) - a.new_species).abs() < 1e-9);
        assert_eq!(weeks.iter().sum::<f64>(), 12.0);
    }
    // By animal no more is killed for a species than by trap-week.
    let [animal, trap_week] = &told.further[..] else {
        panic!("{:?}", told.further)
    };
    assert!(trap_week.new_species >= animal.new_species);
    assert!(animal.new_species / animal.killed >= trap_week.new_species / trap_week.killed);
}

/// Both forms beside each other; the curve passes through the pilot and tells how far it can be trusted.
#[test]
fn the_pilot_by_individuals_and_by_samples() {
    let mut s = demo("meadow-inventory.json");
    let samples = by_samples(s.clone(), 1.0).premises.community.unwrap();
    s.premises.community.as_mut().unwrap().incidences = samples.incidences;
    let told = report(&checked(s), 1).unwrap();
    let (by, samples) = (told.individuals.unwrap(), told.incidences.unwrap());
    for form in [&by, &samples] {
        let here = form.curve.iter().find(|p| p.size == form.size).unwrap();
        assert_eq!((here.species.estimate, here.reach), (form.species, "seen"));
        assert!((here.coverage.estimate - form.coverage.estimate).abs() < 1e-12);
        assert_eq!(form.trap_weeks, 96.0);
        assert!(here.coverage.low < here.coverage.estimate);
        assert!(form.richness.low >= form.species);
        let last = form.curve.last().unwrap();
        assert_eq!(last.reach, "triple");
        assert!(
            form.curve
                .windows(2)
                .all(|w| w[0].species.estimate < w[1].species.estimate)
        );
    }
    // Animals killed in the pilot: 24 trap-weeks of each stratum at 41, 33, 14 and 11.
    assert!((by.killed.unwrap() - 24.0 * 99.0).abs() < 1e-6);
    let wanted = by.wanted.unwrap();
    assert!((wanted.further_killed.unwrap() - wanted.further_trap_weeks * 99.0 / 4.0).abs() < 1e-6);
}
