//! What an inventory and its pilot tell.

use super::{Entry, says};

const COVERAGE: &str = "Good 1953, Biometrika 40:237; Chao & Jost 2012, Ecology 93:2533";
const CURVE: &str = "Colwell et al. 2012, J. Plant Ecol. 5:3";

pub(super) const OF: &[Entry] = &[
    says(
        &["inventory.coverage", "community_coverage", "share_recorded"],
        "coverage of the community",
        "Of all individuals out there, the share whose species is on the list. The nearer to 1, the rarer what is missing, and the dearer each further species.",
    )
    .formula("1 − (f₁/n) (n − 1) f₁/((n − 1) f₁ + 2 f₂); n caught, f₁, f₂ species seen once, twice")
    .source(COVERAGE),
    says(
        &["richness"],
        "species there at least",
        "How many species live there at least, seen or not. The more species were seen just once, the more are still missing; the truth may be higher.",
    )
    .formula("S + ((n − 1)/n) f₁²/(2 f₂); S seen, n caught, f₁, f₂ seen once, twice")
    .source("Chao 1984, Scand. J. Stat. 11:265; of samples Chao 1987, Biometrics 43:783"),
    says(
        &["species", "species_recorded"],
        "species recorded",
        "How many species the list holds. It rises with the effort, ever more slowly, and is no measure to compare places by unless the effort was the same.",
    ),
    says(
        &["species_share"],
        "share of the species recorded",
        "Species on the list as a share of those reckoned to be there at least. The nearer to 1, the less is missing; the truth may be lower.",
    )
    .formula("species recorded/species there at least"),
    says(
        &["seen_once_and_twice"],
        "species seen once, and twice",
        "What estimates of the unseen rest on. Many species seen once and few seen twice mean that much is still missing.",
    )
    .source("Chao 1984, Scand. J. Stat. 11:265"),
    says(
        &["new_species"],
        "new species expected",
        "How many species one more trap-week is expected to add to the list. The smaller it is, the nearer the list is to what can be had there.",
    )
    .source("Good 1953, Biometrika 40:237"),
    says(
        &["species_per_animal"],
        "new species for each animal killed",
        "How many species are gained for each animal that dies. Further trap-weeks go first where it is largest.",
    )
    .formula("new species expected/animals killed in the same trap-week"),
    says(
        &["further_trap_weeks"],
        "further trap-weeks",
        "How much trapping beyond the pilot's the wanted share takes, as often more as less. The nearer the share is to 1, the steeper it rises.",
    )
    .formula("least m with 1 − (f₁/n) A^(m + 1) ≥ wanted; n caught, f₁ seen once, A as in coverage")
    .source("Chao & Jost 2012, Ecology 93:2533"),
    says(
        &["further_killed"],
        "animals killed by further trap-weeks",
        "How many animals of all kinds the missing trap-weeks would kill, at the pilot's rate. It is the price of the missing species.",
    ),
    says(
        &["curve_of_species"],
        "species against trap-weeks",
        "How many species so much trapping of the pilot's kind is expected to record. Beyond twice the pilot the curve cannot be trusted.",
    )
    .formula("S + f₀ (1 − (1 − f₁/(n f₀ + f₁))^m); S seen, f₀ unseen, f₁ seen once, m more of n")
    .source(CURVE),
    says(
        &["reach"],
        "how far from what was seen",
        "Whether a number lies within the pilot, up to twice its size, or further. The further it lies, the less it can be trusted.",
    )
    .source("Colwell et al. 2012, J. Plant Ecol. 5:3 (from memory)"),
    says(
        &["redrawn"],
        "redrawn inventories",
        "How many inventories like the pilot's were drawn again to see how much its numbers hang on luck. The more, the steadier their intervals.",
    )
    .source("Chao et al. 2014, Ecol. Monogr. 84:45"),
];
