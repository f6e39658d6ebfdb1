//! The numbers of which sites are visited in which years.

use super::{Entry, says};

const PANELS: &str = "Urquhart, Paulsen & Larsen 1998, Ecol. Appl. 8:246";
const MIXED: &str = "Urquhart & Kincaid 1999, J. Agric. Biol. Environ. Stat. 4:404";

pub(super) const OF: &[Entry] = &[
    says(
        &["plan.revisit.every_k.years"],
        "years from one trapping to the next",
        "All sites are trapped in the first year and then every so many years. The larger it is, the fewer animals die and the less surely a change is seen.",
    )
    .source(PANELS),
    says(
        &[
            "plan.revisit.alternating.panels",
            "plan.revisit.augmented.panels",
        ],
        "panels that take turns",
        "Into how many groups the sites are divided that take turns year by year. The more panels, the fewer sites are trapped each year, and the less a trend is seen.",
    )
    .source(PANELS),
    says(
        &[
            "plan.revisit.augmented.always",
            "plan.revisit.split.always",
        ],
        "sites visited every year",
        "Sites that are trapped every year, beside those that change. The more of them, the less the differences between sites blur a trend.",
    )
    .source(MIXED),
    says(
        &["plan.revisit.rotating.stay"],
        "years a site stays",
        "For how many years a site is trapped before another takes its place. The longer it stays, the less the differences between sites blur a trend.",
    )
    .source(PANELS),
    says(
        &["plan.gap_years"],
        "years in which nobody traps",
        "Years left out, counted from the first as 1. They spare animals; a trend loses least when years in the middle are left out.",
    ),
];
