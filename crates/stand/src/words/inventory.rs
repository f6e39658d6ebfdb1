//! The inventory so far.

/// Fold-out of the curve's table.
pub const READ: &str = "Read the inventory as a table";
/// Name of that table.
pub const TABLE: &str = "table of the inventory";
/// Name of the table of what further trapping adds.
pub const GAIN_TABLE: &str = "what one more trap-week adds";
/// Before the number of further trap-weeks.
pub const FURTHER: &str = "further trap-weeks ";
/// A pasted table in place of a file's name.
pub const PASTED_FILE: &str = "the pasted table";
/// Fold-out for one's own species.
pub const OWN: &str = "Give your own pilot's species";
/// What such a table holds.
pub const FORMAT: &str = "A table with one row for each species of a stratum (a trap type, a week): stratum, trap_weeks, species, count, and killed_per_trap_week, the animals of all kinds that a trap kills there in a week. Trap-weeks and kills are the same in all rows of a stratum.";
/// Opens one.
pub const OPEN: &str = "Species table (CSV)";
/// Name of the field for a pasted one.
pub const PASTED: &str = "species table, pasted";
/// Takes what is pasted.
pub const USE_PASTED: &str = "Use the pasted table";

/// What does not fit once a species table is taken.
pub fn with_species(name: &str, fault: &str) -> String {
    format!("with the species of {name}: {fault}")
}

/// What a species table told.
pub fn species_taken(name: &str, rows: usize, strata: usize) -> String {
    format!("Species from {name}: {rows} rows, {strata} strata.")
}
