//! Titles of the page's parts, each with the one line that stands under it.

/// A part's key, title and line.
pub type Titled = (&'static str, &'static str, &'static str);

/// Heading of the parts that tell whether the plan answers.
pub const ANSWERS: &str = "Will it answer?";
/// Of those that tell what it kills and costs.
pub const COSTS: &str = "What does it take?";
/// Of those that make it smaller.
pub const SMALLER: &str = "Can it be less?";
/// Of those that ask how far to trust it.
pub const TRUST: &str = "How far can I trust it?";
/// Of what is put in.
pub const INPUT: &str = "What goes in";

/// The curve.
pub const CURVE: Titled = (
    "curve",
    "More or fewer?",
    "The chance of an answer, and the animals killed for it, as the plan grows.",
);
/// What limits the plan.
pub const LIMITING: Titled = (
    "limiting",
    "What limits you",
    "Where the doubt comes from, what more traps cannot lower, and how many traps yours are worth.",
);
/// Years against sites.
pub const MAP: Titled = (
    "map",
    "Years against sites",
    "The smallest change that each number of years and sites would find.",
);
/// Twenty surveys.
pub const FUTURES: Titled = (
    "futures",
    "Twenty possible surveys",
    "What your survey may come to: the same change, twenty times, and twenty times nothing at all.",
);
/// All species.
pub const SEVERAL: Titled = (
    "several",
    "All species of the list",
    "The chance for each species, and of finding a stated share of them.",
);
/// The inventory.
pub const INVENTORY: Titled = (
    "inventory",
    "The inventory so far",
    "What the pilot has recorded, and what more trapping would add.",
);
/// The toll.
pub const TOLL: Titled = (
    "toll",
    "What it kills",
    "Every animal counted: target, by-catch, vertebrates and protected ones apart.",
);
/// Money and hours.
pub const COST: Titled = (
    "cost",
    "Hours and money",
    "Work by month against the people there are, money by year.",
);
/// Weeks.
pub const SEASON: Titled = (
    "season",
    "When to trap",
    "Week by week: what is caught, what is killed and what is learned.",
);
/// Revisits.
pub const REVISIT: Titled = (
    "revisit",
    "Which sites in which years",
    "Every site every year, or turn by turn, for the same work.",
);
/// The search.
pub const LEAST: Titled = (
    "least",
    "The least plan",
    "Of all plans that answer, the one that kills least, and why not fewer.",
);
/// Lighter samples.
pub const GENTLE: Titled = (
    "gentle",
    "Catching less of each",
    "Many light samples against few heavy ones, and gentler traps.",
);
/// Looks.
pub const LOOKS: Titled = (
    "looks",
    "When to stop early",
    "Looks before the last year, by lines written down beforehand.",
);
/// Stop lines.
pub const STOP_LINES: Titled = (
    "stop-lines",
    "When to stop in the field",
    "Trap until the total reaches a line, instead of a number fixed beforehand.",
);
/// Ignoring.
pub const IGNORING: Titled = (
    "ignoring",
    "If the analysis is not told",
    "What it costs to leave out of the analysis what the world holds.",
);
/// Mistakes.
pub const MISTAKES: Titled = (
    "mistakes",
    "Mistakes to show",
    "Traps counted as sites, years ignored, zeros dropped: move the numbers and see.",
);
/// Method.
pub const METHOD: Titled = (
    "method",
    "How the numbers are made",
    "The method in plain sentences, and the false alarms of every test.",
);

/// The plan.
pub const PLAN: (&str, &str) = ("plan", "The plan");
/// What is believed.
pub const PREMISES: (&str, &str) = ("premises", "Premises");
/// Other species.
pub const OTHERS: (&str, &str) = ("others", "Other species");
/// By-catch.
pub const BYCATCH: (&str, &str) = ("bycatch", "By-catch");
/// Rates of work and money.
pub const RATES: (&str, &str) = ("rates", "Rates of work and money");
/// Kinds of trap.
pub const TRAPS: (&str, &str) = ("traps", "Kinds of trap");

/// The trap of the premises.
pub const USUAL_TRAP: &str = "as the premises say";
/// No group of by-catch.
pub const NO_BYCATCH: &str = "no group stated: no trap catches its target alone";

/// How many other species there are.
pub fn others(n: usize) -> String {
    match n {
        0 => "one species is asked about".into(),
        n => format!("{n} beside the target"),
    }
}

/// The first plan of a curve that reaches the wanted power.
pub fn enough(axis: &str, value: u32, wanted: &str, power: &str, alarms: &str) -> String {
    format!(
        "Of the plans shown, {value} {axis} are the first to reach {wanted} ({power}, {alarms})."
    )
}

/// No plan of a curve does.
pub fn not_enough(axis: &str, wanted: &str) -> String {
    format!("None of the numbers of {axis} shown reaches {wanted}.")
}

/// Of twenty surveys.
pub fn of_twenty(found: u32) -> String {
    format!("Of 20 surveys like this, about {found} would answer.")
}

/// The kill.
pub fn killed(all: &str, apart: &str) -> String {
    format!("{all} animals over all years, {apart} of them vertebrates or protected.")
}

/// The kill, where no group of by-catch is stated.
pub fn killed_besides_unstated(all: &str) -> String {
    format!("{all} animals over all years, by-catch not stated.")
}

/// The weeks.
pub fn trapped_in(weeks: &str) -> String {
    format!("Traps are open in {weeks}.")
}
