//! Scenarios without departures draw what they always drew: their digests are pinned.

use leastcatch_tests::project;
use survey::generator::{Drawn, Generator, World};
use survey::scenario::{Checked, Premise, Source, read};

fn demo(name: &str) -> Checked {
    let text = std::fs::read_to_string(project("demo-data").join(name)).unwrap();
    read(&text).unwrap().check().unwrap()
}

/// FNV-1a over the bits of all that is drawn: eight surveys in each world, by-catch too.
fn fingerprint(s: &Checked) -> u64 {
    let generator = Generator::new(s, &s.plan);
    let mut drawn = Drawn::default();
    let mut hash = 0xcbf2_9ce4_8422_2325u64;
    for replicate in 0..8 {
        for world in [World::Change, World::Still] {
            generator.draw(20, replicate, world, true, &mut drawn);
            let parts = [&drawn.counts, &drawn.effort, &drawn.killed, &drawn.bycatch];
            for value in parts.into_iter().flatten() {
                for byte in value.to_bits().to_le_bytes() {
                    hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
                }
            }
        }
    }
    hash
}

#[test]
fn plain_scenarios_draw_what_they_always_drew() {
    let mut uneven = demo("meadow-beetles.json").into_inner();
    uneven.premises.target.trap_sd.value = 0.4;
    uneven.premises.trap_loss = Premise::new(0.0, Source::Guess);
    let got = [
        fingerprint(&demo("meadow-beetles.json")),
        fingerprint(&demo("mountain-moths.json")),
        fingerprint(&uneven.check().unwrap()),
    ];
    let want = [
        0x1137_a581_7ef1_d024,
        0x784a_ec5d_e2f9_3ec9,
        0x21e3_6af5_feb6_6e32,
    ];
    assert_eq!(got, want, "{got:#x?}");
}
