//! Several species asked about at once: the scenario as each one's own, and its own random numbers.

use crate::scenario::{Checked, Target};

/// Species that are asked about: the target and the others.
pub fn species(scenario: &Checked) -> u32 {
    1 + scenario.premises.others.len() as u32
}

/// The scenario whose target is species `number`: 0 is the target, i the i-th of the others, whose place the target
/// takes. `None` when there are not so many.
pub fn about(scenario: &Checked, number: u32) -> Option<Checked> {
    if number == 0 {
        return Some(scenario.clone());
    }
    let mut s = scenario.clone().into_inner();
    let other: &mut Target = s.premises.others.get_mut(number as usize - 1)?;
    std::mem::swap(other, &mut s.premises.target);
    // Both are within the same bounds.
    s.check().ok()
}

/// The seed of a species' random numbers, so that species are independent of each other: the scenario's own seed for
/// species 0, whose surveys are then those of the answer for it alone; for the others the seed moved on by a golden
/// ratio of the integers and scrambled (SplitMix64; Steele, Lea & Flood 2014, OOPSLA, 453-472; constants recalled from
/// memory). Species of one list have different seeds, whatever the first.
pub fn seed_of(seed: u64, number: u32) -> u64 {
    if number == 0 {
        return seed;
    }
    let mut z = seed.wrapping_add(u64::from(number).wrapping_mul(0x9e37_79b9_7f4a_7c15));
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn seeds_differ() {
        let mut seen = BTreeSet::new();
        for seed in [0, 1, 2, u64::MAX] {
            assert_eq!(seed_of(seed, 0), seed);
            for number in 0..13 {
                seen.insert(seed_of(seed, number));
            }
        }
        assert_eq!(seen.len(), 4 * 13);
    }
}
