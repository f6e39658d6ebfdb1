//! The numbers of where animals live: gradients, occupied sites, pairs, animals in reach, the pilot's community.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["gradient.optimum"],
        "optimum in the first year",
        "The place on the gradient with the highest catch in the first year. Its move is seen best when sites stand well to both sides of it.",
    )
    .formula("ln catch = ln peak catch − (place − optimum)²/(2 tolerance²)")
    .source("ter Braak & Looman 1986, Vegetatio 65:3"),
    says(
        &["gradient.tolerance"],
        "tolerance",
        "How wide the range is: so far from its best place the catch has fallen to 61 %. The larger it is, the harder it is to see where the best place lies.",
    )
    .formula("ln catch = ln peak catch − (place − optimum)²/(2 tolerance²)")
    .source("ter Braak & Looman 1986, Vegetatio 65:3"),
    says(
        &["gradient.edge.place"],
        "edge in the first year",
        "The place where half of the sites are occupied in the first year. Only sites near the edge, or where it will come by, tell of its move.",
    )
    .formula("share occupied = 1/(1 + e^(d/width)); d distance beyond the edge"),
    says(
        &["gradient.edge.width"],
        "width of the edge",
        "How slowly the range thins out: one width inside its edge 73 % of sites are occupied, one outside 27 %. The larger it is, the harder a move is to see.",
    )
    .formula("share occupied = 1/(1 + e^(d/width)); d distance beyond the edge"),
    says(
        &["gradient.edge.redrawn_each_year"],
        "sites whose own liking is new each year",
        "The share of sites that draw anew each year how the target likes them, and so fill or empty by chance. Between 0 and 1 plain tests raise too many false alarms.",
    ),
    says(
        &["pair_correlation"],
        "what the sites of a pair have in common",
        "How alike the two sites of a pair are, as a share of what sites differ by. The larger it is, the fewer pairs are needed.",
    )
    .formula("variance of a pair's difference = 2 SD² (1 − share); SD that of sites"),
    says(
        &["local_population.animals"],
        "animals in reach of a site's traps",
        "How many animals of the target one site's traps can reach in a year. The smaller it is, the sooner traps empty the place and further traps catch next to nothing.",
    )
    .formula("share caught = 1 − e^(−x); x = catch were there no end/animals there")
    .source("Moran 1951, Biometrika 38:307; Zippin 1956, Biometrics 12:163 (both from memory)"),
    says(
        &["local_population.recovery"],
        "what has come back by the next year",
        "The share of the animals taken that is made up for by the next year. The larger it is, the less trapping itself looks like a decline; 1 leaves no trace, an assumption.",
    )
    .formula("missing next year = missing after trapping × (1 − recovery)"),
    says(
        &["occupancy.occupied"],
        "sites occupied in the first year",
        "The share of sites where the target lives at the beginning. The nearer it is to the share at the end, the more sites are needed.",
    )
    .formula("variance = ψ(1 − ψ + F)/S; ψ share, S sites, F what missed detections add")
    .source("MacKenzie & Royle 2005, J. Appl. Ecol. 42:1105"),
    says(
        &["occupancy.left_each_year"],
        "occupied sites left empty a year later",
        "The share of occupied sites that lose the target within a year, while other sites gain it. The larger it is, the less it helps to visit the same sites again.",
    ),
    says(
        &["community.strata.trap_weeks"],
        "trap-weeks of a part of the pilot",
        "The trap-weeks that this part of the pilot was trapped for. For the same list of species: the more it took, the more trap-weeks the survey will need.",
    ),
    says(
        &["community.strata.killed_per_trap_week"],
        "animals killed a trap-week in the pilot",
        "All animals that one trap of this part of the pilot kills in a week, whether they are listed or not. The larger it is, the dearer each new species in lives.",
    ),
    says(
        &["community.strata.species.count"],
        "individuals of a species",
        "How many individuals of the species this part of the pilot caught. Many species seen just once mean that many more were not seen at all.",
    ),
    says(
        &["community.incidences.samples"],
        "samples of the pilot",
        "How many samples the pilot took. The more samples a list of species rests on, the surer its completeness is known.",
    ),
    says(
        &["community.incidences.trap_weeks_per_sample"],
        "trap-weeks of one sample",
        "How many trap-weeks one sample of the pilot is made of. It turns numbers of samples into trap-weeks: twice as large, twice the effort.",
    ),
    says(
        &["community.incidences.species.count"],
        "samples with a species",
        "In how many of the pilot's samples the species was found. Unlike individuals this is not misled by catches that come in clumps.",
    ),
];
