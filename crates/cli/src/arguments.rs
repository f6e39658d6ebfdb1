//! Arguments.

use crate::failure::Failure;
use crate::files;
use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;

/// How few traps, sites, weeks and years answer the question, and what they kill.
#[derive(Debug, Parser)]
#[command(name = "leastcatch", version, about, long_about = None)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// Commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Power with its false alarms, smallest change and toll of the scenario's plan; the picture is of the toll
    Answer(PicturedSimulation),
    /// Power and toll along sites, traps, weeks, years or days of exposure
    Curve(CurveArguments),
    /// Hours by month and money by year of the plan, from premises.costs
    Cost(CostArguments),
    /// The plan with the smallest toll that answers, within the scenario's limits
    Least(PicturedSimulation),
    /// What it costs when the analysis is not told of losses and of what departs from the plain model
    Ignoring(Simulation),
    /// The plan's first simulated surveys, one by one: found, missed, wrong way or false alarm
    Futures(PlansArguments),
    /// Many light samples against few heavy ones, sub-sampling, and kinds of trap side by side, by closed form
    Gentle(GentleArguments),
    /// When to stop sampling in the field: the lines of the scenario's rule, and what they do
    StopLines(StopArguments),
    /// Which weeks: what each catches, kills and tells, the best ones, and what a moving season does to them
    Season(SeasonArguments),
    /// Power, false alarms and one shared toll for several species at once (premises.others, question.several)
    Several(Simulation),
    /// Planned looks before the last year (plan.looks): when to stop, error rates, years and animals spared
    Looks(PicturedSimulation),
    /// Usual mistakes and what they do to this plan's numbers: traps counted as sites, years ignored, ...
    Mistakes(MistakesArguments),
    /// The same yearly effort under each revisit pattern: variance, power and toll by closed form
    Patterns(ClosedArguments),
    /// What losses, drop-out and late samples cost, and how many sites to recruit, by closed form
    Returns(ClosedArguments),
    /// What limits the plan: each source's part of the doubt, the floor that years set, and how many traps the traps count as
    Limiting(ClosedArguments),
    /// The smallest change found over years and sites, by closed form
    Map(MapArguments),
    /// Premises from a table of pilot catches
    Premises(PilotArguments),
    /// What a pilot's species list tells: species, coverage, what more trap-weeks add and kill
    Inventory(InventoryArguments),
    /// A scenario of your own, made of a demonstration without what was invented for it
    Own(OwnArguments),
    /// The JSON Schema of the scenario file
    Schema,
}

/// A scenario to simulate.
#[derive(Debug, Args)]
pub struct Simulation {
    /// Scenario file (JSON; `-` reads standard input)
    pub scenario: PathBuf,
    /// Seed of the random numbers: the same seed gives the same digits
    #[arg(long, default_value_t = engine::USUAL_SEED)]
    pub seed: u64,
    /// Simulated surveys of each plan, with the change and as many without it
    #[arg(long, default_value_t = engine::USUAL_REPLICATES)]
    pub replicates: u64,
    /// Print the answer as JSON
    #[arg(long)]
    pub json: bool,
    /// Threads (default: one per core)
    #[arg(long)]
    pub threads: Option<usize>,
}

/// What to write besides what is printed.
#[derive(Debug, Args)]
pub struct PictureFiles {
    /// Also write the picture as SVG
    #[arg(long, value_name = "FILE")]
    pub svg: Option<PathBuf>,
    /// Also write its table as CSV
    #[arg(long, value_name = "FILE")]
    pub csv: Option<PathBuf>,
}

impl PictureFiles {
    /// Writes what is asked for.
    pub fn write(
        &self,
        svg: impl FnOnce() -> String,
        csv: impl FnOnce() -> String,
    ) -> Result<(), Failure> {
        if let Some(path) = &self.svg {
            files::write(path, &svg())?;
        }
        if let Some(path) = &self.csv {
            files::write(path, &csv())?;
        }
        Ok(())
    }
}

/// A curve to simulate.
#[derive(Debug, Args)]
pub struct CurveArguments {
    /// Scenario, seed, replicates.
    #[command(flatten)]
    pub simulation: Simulation,
    /// What it runs over: sites=5..60:5, years=3..12, traps=1,2,4, weeks=1..8, exposure=1..7 days a week; first_week, and where the plan has them before_years, treated_percent, lowest, highest (default: sites around the plan's)
    #[arg(long)]
    pub over: Option<String>,
    /// Picture and table as files.
    #[command(flatten)]
    pub files: PictureFiles,
}

/// A scenario to simulate, and the files for the picture of what comes out.
#[derive(Debug, Args)]
pub struct PicturedSimulation {
    /// Scenario, seed, replicates.
    #[command(flatten)]
    pub simulation: Simulation,
    /// Picture and table as files.
    #[command(flatten)]
    pub files: PictureFiles,
}

/// Surveys to look at, of one plan or of several.
#[derive(Debug, Args)]
pub struct PlansArguments {
    /// Scenario, seed, replicates, files.
    #[command(flatten)]
    pub futures: PicturedSimulation,
    /// The same surveys under fewer (about half) and more (about twice) sites too
    #[arg(long)]
    pub beside: bool,
}

/// Costs to tell.
#[derive(Debug, Args)]
pub struct CostArguments {
    /// Scenario file with premises.costs (JSON; `-` reads standard input)
    pub scenario: PathBuf,
    /// Print everything as JSON
    #[arg(long)]
    pub json: bool,
    /// Picture of the busiest year, and a table of every month of every year, as files.
    #[command(flatten)]
    pub files: PictureFiles,
}

/// A rule to stop to explain.
#[derive(Debug, Args)]
pub struct StopArguments {
    /// Scenario file with a rule to stop (JSON; `-` reads standard input)
    pub scenario: PathBuf,
    /// Print everything as JSON
    #[arg(long)]
    pub json: bool,
    /// Picture and table as files.
    #[command(flatten)]
    pub files: PictureFiles,
    /// Also write the card for the field as HTML, to be printed
    #[arg(long, value_name = "FILE")]
    pub card: Option<PathBuf>,
}

/// Weeks to choose.
#[derive(Debug, Args)]
pub struct SeasonArguments {
    /// Scenario file (JSON; `-` reads standard input)
    pub scenario: PathBuf,
    /// How many weeks the best sets have (default: as many as the plan)
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=53))]
    pub weeks: Option<u32>,
    /// What an animal of each kind counts for: target=1,arthropod=1,vertebrate=1,protected=1,reproductive=0 (the last is
    /// on top)
    #[arg(long, value_name = "KIND=WEIGHT,...")]
    pub weigh: Option<String>,
    /// Print everything as JSON
    #[arg(long)]
    pub json: bool,
    /// Picture and table as files.
    #[command(flatten)]
    pub files: PictureFiles,
}

/// A plan to make lighter.
#[derive(Debug, Args)]
pub struct GentleArguments {
    /// Scenario file (JSON; `-` reads standard input)
    pub scenario: PathBuf,
    /// Print everything as JSON
    #[arg(long)]
    pub json: bool,
    /// Picture and table as files.
    #[command(flatten)]
    pub files: PictureFiles,
}

/// A scenario whose closed forms are told.
#[derive(Debug, Args)]
pub struct ClosedArguments {
    /// Scenario file (JSON; `-` reads standard input)
    pub scenario: PathBuf,
    /// Print everything as JSON
    #[arg(long)]
    pub json: bool,
    /// Picture (returns have none) and table as files.
    #[command(flatten)]
    pub files: PictureFiles,
}

/// A map to compute.
#[derive(Debug, Args)]
pub struct MapArguments {
    /// Scenario file (JSON; `-` reads standard input)
    pub scenario: PathBuf,
    /// Years across: 4..20:2 or 5,10,15 (default: about the plan's and up to its limits)
    #[arg(long, value_name = "NUMBERS")]
    pub years: Option<String>,
    /// Sites down: 5..60:5 or 10,20,40 (default: about the plan's and up to its limits)
    #[arg(long, value_name = "NUMBERS")]
    pub sites: Option<String>,
    /// Print everything as JSON
    #[arg(long)]
    pub json: bool,
    /// Picture and table as files.
    #[command(flatten)]
    pub files: PictureFiles,
}

/// Mistakes to show.
#[derive(Debug, Args)]
pub struct MistakesArguments {
    /// Scenario file (JSON; `-` reads standard input)
    pub scenario: PathBuf,
    /// Only this one: traps_as_sites, years_ignored, baseline_chosen, best_sites, zeros_dropped, moving_season, none_found,
    /// only_significant, repeated_looks or many_species
    #[arg(long, value_name = "NAME")]
    pub only: Option<String>,
    /// Seed of the random numbers: the same seed gives the same digits
    #[arg(long, default_value_t = engine::USUAL_SEED)]
    pub seed: u64,
    /// Print everything as JSON
    #[arg(long)]
    pub json: bool,
    /// Picture and table as files; only with --only.
    #[command(flatten)]
    pub files: PictureFiles,
}

/// An inventory to tell.
#[derive(Debug, Args)]
pub struct InventoryArguments {
    /// Scenario file with the question of an inventory (JSON; `-` reads standard input)
    #[arg(required_unless_present = "into")]
    pub scenario: Option<PathBuf>,
    /// Read the pilot's species from this table (CSV: stratum, trap_weeks, species, count, killed_per_trap_week)
    #[arg(long, value_name = "FILE")]
    pub table: Option<PathBuf>,
    /// Put the table's species into this scenario file
    #[arg(
        long,
        value_name = "SCENARIO",
        requires = "table",
        conflicts_with = "scenario"
    )]
    pub into: Option<PathBuf>,
    /// Further trap-weeks to share out over the strata
    #[arg(long, default_value_t = engine::inventory::USUAL_FURTHER, value_parser = clap::value_parser!(u32).range(1..=10_000))]
    pub further: u32,
    /// Print it as JSON
    #[arg(long)]
    pub json: bool,
    /// Picture and table as files.
    #[command(flatten)]
    pub files: PictureFiles,
}

/// A scenario to make one's own.
#[derive(Debug, Args)]
pub struct OwnArguments {
    /// Scenario file (JSON; `-` reads standard input)
    pub scenario: PathBuf,
    /// File to write; one that exists is not overwritten
    pub out: PathBuf,
    /// Title of the new scenario
    #[arg(long)]
    pub title: String,
}

/// Pilot catches to read.
#[derive(Debug, Args)]
pub struct PilotArguments {
    /// Long table of catches (CSV): one row for each count (`-` reads standard input)
    pub pilot: PathBuf,
    /// Name a column of the table: site=…, trap=…, date=…, year=…, week=…, set=…, collected=…, effort=…, taxon=…, count=…
    #[arg(long = "column", value_name = "ROLE=HEADER")]
    pub columns: Vec<String>,
    /// The group that is the target (default: the one with the largest total)
    #[arg(long)]
    pub target: Option<String>,
    /// Unit of the effort column
    #[arg(long, value_parser = ["trap-weeks", "trap-days"], default_value = "trap-weeks")]
    pub effort_unit: String,
    /// In dates such as 03/04/2025 the day stands first
    #[arg(long, conflicts_with = "month_first")]
    pub day_first: bool,
    /// In dates such as 03/04/2025 the month stands first
    #[arg(long)]
    pub month_first: bool,
    /// Fit a site-by-year SD: when the table can tell it (auto), always, or never
    #[arg(long, value_parser = ["auto", "on", "off"], default_value = "auto")]
    pub site_year: String,
    /// Put the premises into this scenario file
    #[arg(long, value_name = "SCENARIO")]
    pub into: Option<PathBuf>,
    /// Print the premises as JSON
    #[arg(long)]
    pub json: bool,
}
