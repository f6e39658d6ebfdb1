//! What the search for the least plan tells.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["least_plan", "least"],
        "least plan",
        "The plan that kills the fewest animals among all within the limits that reach the wanted power in full simulation. Wider limits may find one that kills still fewer.",
    ),
    says(
        &["frontier"],
        "frontier of toll and power",
        "Plans than which none with fewer deaths has more power by the formula. Going along it, more power costs more animals, and at its end very many.",
    ),
    says(
        &["weighted_toll"],
        "weighted toll",
        "The toll when an animal of some groups counts as more or fewer than one. Plans are ranked by it: the smaller it is, the better the plan.",
    )
    .formula("sum over groups of weight × animals expected to be killed"),
    says(
        &["expected_toll"],
        "expected toll",
        "The animals that a plan kills on average, by a formula and without simulating. Single surveys kill more or fewer, as catches are.",
    )
    .formula("sum over groups, sites, weeks and years of their mean kill"),
    says(
        &["smaller"],
        "why not fewer",
        "What plans with one site, trap, week, day or year fewer would come to, fully simulated. The least plan stands when each of them falls short.",
    ),
    says(
        &["binding", "binding_limits"],
        "limit that binds",
        "A limit without which a plan would do that kills fewer animals. Giving way in it helps; giving way in the others does not.",
    )
    .formula("numbers raised by half, years by up to five, caps taken away, one at a time"),
    says(
        &["missed", "most_too_low"],
        "what the formula may have missed",
        "By how much the formula was too low at most, over the plans simulated in full. The larger it is, the sooner a plan that kills fewer was passed over.",
    )
    .formula("largest of simulated power − power by the formula"),
    says(
        &["undecided_toll"],
        "toll that is undecided",
        "Between these two tolls the simulated surveys cannot tell which plan is the first to reach the wanted power. More simulated surveys bring the two nearer.",
    ),
    says(
        &["half_exposure"],
        "at half its exposure",
        "What the least plan would kill and find if its traps were open for half the days. Little power lost means that many animals can be spared.",
    ),
    says(
        &["confidence_sequence", "stopped"],
        "simulation stopped early",
        "A plan's simulation stops once it is sure on which side of the wanted power it lies. Its interval stays right though one looked again and again; it is wider for that.",
    )
    .formula("all p with (n + 1) C(n, h) p^h (1 − p)^(n − h) > error; h of n surveys find it")
    .source("Robbins 1970, Ann. Math. Stat. 41:1397"),
    says(
        &["screened"],
        "plans looked at",
        "How many plans the formula looked at within the limits. The more, the longer the search, and the surer that none is better.",
    ),
    says(
        &["surveys", "simulated"],
        "surveys simulated in all",
        "How many surveys were simulated for all plans together, with and without the change. It tells how much work the answer rests on.",
    ),
    says(
        &["shortfall"],
        "how far the surest plan gets",
        "The power of the surest plan within the limits when none reaches the wanted one. The further below it, the more the limits or the question must give way.",
    ),
    says(
        &["thrifty"],
        "cheaper plans with a larger toll",
        "Plans that answer for less money and more animals. They show what the animals spared by the least plan cost in money.",
    ),
];
