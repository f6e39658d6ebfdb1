//! Pins the random numbers: what was drawn for a scenario and seed is drawn for ever after. A change of any value here
//! changes the result of every scenario that was ever saved with its seed; it must be meant, and told in the release.

use leastcatch_tests::variants::questions;
use numerics::draws::{GammaTable, gamma, poisson};
use numerics::random::Stream;
use serde_json::{Value, json};
use survey::generator::{Drawn, Generator, World};
use survey::scenario::{Checked, read};

/// FNV-1a over the bits of the values (Fowler, Noll & Vo), as 16 hexadecimal digits.
fn digest<'a>(values: impl IntoIterator<Item = &'a f64>) -> String {
    let bytes = values.into_iter().flat_map(|v| v.to_bits().to_le_bytes());
    let hash = bytes.fold(0xcbf2_9ce4_8422_2325u64, |h, b| {
        (h ^ u64::from(b)).wrapping_mul(0x0000_0100_0000_01b3)
    });
    format!("{hash:016x}")
}

/// The first three of 1000 draws, and the digest of all.
fn drawn(mut draw: impl FnMut(&mut Stream) -> f64) -> String {
    let mut stream = Stream::new(2026, 7);
    stream.go_to(1, 2, 3);
    let all: Vec<f64> = (0..1000).map(|_| draw(&mut stream)).collect();
    format!("{:?} {}", &all[..3], digest(&all))
}

#[test]
fn draws_of_every_kind() {
    let tables = [2.0, 40.0].map(GammaTable::new);
    let table = |shape: f64| &tables[usize::from(shape > 2.0)];
    let got = [
        ("uniform", drawn(Stream::uniform)),
        ("normal", drawn(Stream::normal)),
        ("gamma, shape .3", drawn(|s| gamma(s, 0.3))),
        ("gamma, shape 2", drawn(|s| gamma(s, 2.0))),
        ("gamma, shape 40", drawn(|s| gamma(s, 40.0))),
        ("gamma table, shape 2", drawn(|s| table(2.0).draw(s))),
        ("gamma table, shape 40", drawn(|s| table(40.0).draw(s))),
        ("Poisson, mean 3", drawn(|s| poisson(s, 3.0))),
        ("Poisson, mean 19.9", drawn(|s| poisson(s, 19.9))),
        ("Poisson, mean 50", drawn(|s| poisson(s, 50.0))),
        ("Poisson, mean 1e6", drawn(|s| poisson(s, 1e6))),
    ];
    assert_pinned(&got.map(|(n, v)| (n.to_string(), v)), DRAWS);
}

fn checked(scenario: &Value) -> Checked {
    read(&scenario.to_string()).unwrap().check().unwrap()
}

/// Some counts of a survey, and the digest of all that is drawn of it.
fn survey(scenario: &Checked, world: World) -> String {
    let generator = Generator::new(scenario, &scenario.plan);
    let mut drawn = Drawn::default();
    generator.draw(2026, 7, world, true, &mut drawn);
    let parts = [&drawn.counts, &drawn.effort, &drawn.killed, &drawn.bycatch];
    format!(
        "{:?} {}",
        &drawn.counts[8..14],
        digest(parts.into_iter().flatten())
    )
}

const WORLDS: [(&str, World); 2] = [("change", World::Change), ("still", World::Still)];

/// Lost traps (binomial draws), by-catch, and for every question both worlds.
#[test]
fn surveys_of_every_question_in_both_worlds() {
    let mut got = Vec::new();
    for (question, mut scenario) in questions() {
        scenario["premises"]["trap_loss"] = json!({ "value": 0.2, "source": "invented" });
        let scenario = checked(&scenario);
        for (name, world) in WORLDS {
            got.push((format!("{question}, {name}"), survey(&scenario, world)));
        }
    }
    assert_pinned(&got, SURVEYS);
}

/// Departures from the plain model draw at places of their own.
#[test]
fn surveys_that_depart_from_the_plain_model() {
    let premise = |value: f64| json!({ "value": value, "source": "invented" });
    let (_, mut scenario) = questions().swap_remove(0);
    scenario["premises"]["departures"] = json!({
        "year_autocorrelation": premise(0.5),
        "site_slope_sd": premise(0.02),
        "correlation_length_km": premise(10.0),
        "region_km2": premise(900.0),
        "shared_week_sd": premise(0.3),
        "detection_drift_percent": premise(-1.0),
        "loss_follows_catch": premise(0.4),
    });
    scenario["plan"]["trap_points"] = "new_each_year".into();
    let scenario = checked(&scenario);
    let got = WORLDS.map(|(name, world)| (name.to_string(), survey(&scenario, world)));
    assert_pinned(&got, DEPARTING);
}

fn assert_pinned(got: &[(String, String)], pinned: &[(&str, &str)]) {
    let lines: Vec<String> = got
        .iter()
        .map(|(n, v)| format!("(\n{n:?}, {v:?}),"))
        .collect();
    let got: Vec<(&str, &str)> = got.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    assert_eq!(got, pinned, "drawn now:\n{}", lines.join("\n"));
}

const DRAWS: &[(&str, &str)] = &[
    (
        "uniform",
        "[0.9801888970696526, 0.9083073607652778, 0.7803652699230785] f99f5557396b58a1",
    ),
    (
        "normal",
        "[2.057666004540787, 1.3304037537205242, 0.7734274324381337] 128c112c1f259352",
    ),
    (
        "gamma, shape .3",
        "[2.762839633154165, 0.05154283589683212, 0.04722213769817747] 85c1cfaae17b2a49",
    ),
    (
        "gamma, shape 2",
        "[5.984372278921585, 2.8778268981597916, 3.6058478655472967] bd97897518220075",
    ),
    (
        "gamma, shape 40",
        "[54.08871403059466, 44.73994438088358, 47.26142190822718] 236b6e8d6c13cd48",
    ),
    (
        "gamma table, shape 2",
        "[2.9014800613742238, 1.1221324983597025, 3.6358760467256426] f15936e5f90031cf",
    ),
    (
        "gamma table, shape 40",
        "[44.792410944071584, 36.489193054986124, 47.38464993099085] 079b4fdeea1b5a9e",
    ),
    ("Poisson, mean 3", "[7.0, 5.0, 4.0] fa7631027c9f48dc"),
    ("Poisson, mean 19.9", "[30.0, 26.0, 23.0] 6023de8a278b1165"),
    ("Poisson, mean 50", "[56.0, 59.0, 48.0] 74cc374562f79ef3"),
    (
        "Poisson, mean 1e6",
        "[1000870.0, 1001307.0, 999772.0] 79e52cdf21275bb3",
    ),
];
const SURVEYS: &[(&str, &str)] = &[
    (
        "decline, change",
        "[6.0, 20.0, 47.0, 69.0, 7.0, 23.0] e02ba20e301f5dc0",
    ),
    (
        "decline, still",
        "[38.0, 32.0, 37.0, 9.0, 25.0, 8.0] d4792903ee1650b6",
    ),
    (
        "no_worse, change",
        "[7.0, 23.0, 47.0, 72.0, 8.0, 13.0] 94668602dded234f",
    ),
    (
        "no_worse, still",
        "[33.0, 26.0, 37.0, 9.0, 23.0, 7.0] 360480efebf3f5d8",
    ),
    (
        "difference, change",
        "[1.0, 5.0, 6.0, 17.0, 1.0, 11.0] 30959783c1a020b6",
    ),
    (
        "difference, still",
        "[2.0, 3.0, 9.0, 3.0, 5.0, 2.0] 1b9ff8013fac987b",
    ),
    (
        "before_after, change",
        "[10.0, 32.0, 47.0, 72.0, 8.0, 13.0] e786059dd4bd89ff",
    ),
    (
        "before_after, still",
        "[38.0, 32.0, 37.0, 9.0, 25.0, 8.0] d4792903ee1650b6",
    ),
    (
        "occupancy, change",
        "[1.0, 4.0, 0.0, 1.0, 0.0, 0.0] 2f861584900bcae6",
    ),
    (
        "occupancy, still",
        "[2.0, 1.0, 3.0, 0.0, 0.0, 0.0] a0f85f918672b0bb",
    ),
    (
        "range_shift, change",
        "[0.0, 1.0, 5.0, 12.0, 3.0, 7.0] b77d9730b4de8596",
    ),
    (
        "range_shift, still",
        "[2.0, 4.0, 5.0, 1.0, 16.0, 1.0] b9e3510bae541bfa",
    ),
    (
        "absence, change",
        "[0.0, 0.0, 0.0, 0.0, 0.0, 0.0] e5ee8aa1d98a0509",
    ),
    (
        "absence, still",
        "[0.0, 0.0, 0.0, 0.0, 0.0, 0.0] 27de5b602f989bf0",
    ),
    (
        "baseline, change",
        "[1.0, 3.0, 4.0, 11.0, 0.0, 6.0] a9b94da85afb26a4",
    ),
    (
        "baseline, still",
        "[4.0, 4.0, 5.0, 1.0, 3.0, 1.0] eb7fdcb1d9ed16cd",
    ),
    (
        "inventory, change",
        "[2.0, 6.0, 11.0, 21.0, 0.0, 10.0] 5e410f1ecd0230aa",
    ),
    (
        "inventory, still",
        "[8.0, 7.0, 9.0, 2.0, 5.0, 2.0] 6c08845875741127",
    ),
    (
        "range_shift of an edge, change",
        "[0.0, 2.0, 4.0, 6.0, 2.0, 5.0] 36fe10dd2a2474db",
    ),
    (
        "range_shift of an edge, still",
        "[2.0, 5.0, 4.0, 0.0, 8.0, 0.0] c06bcd96e0918033",
    ),
];
const DEPARTING: &[(&str, &str)] = &[
    (
        "change",
        "[31.0, 31.0, 19.0, 97.0, 12.0, 28.0] 70cbaf642d05c35c",
    ),
    (
        "still",
        "[21.0, 11.0, 35.0, 12.0, 24.0, 3.0] 955065c78d4d275d",
    ),
];
