//! What was assumed, left out or odd while reading.

use super::super::options::Role;
use super::Reader;

impl Reader<'_> {
    /// Notes for the user, after every row has been read.
    pub(super) fn notes(&self, day_first: bool) -> Vec<String> {
        let mut notes = self.map.notes.clone();
        let tally = |what| self.tallies.get(what).copied().unwrap_or(0);
        let header = |role| self.map.get(role).map(|j| self.table.headers[j].as_str());
        match (header(Role::Effort), header(Role::Set)) {
            (Some(name), _) => {
                let unit = self.effort_unit().word();
                let why = if self.map.effort_unit.is_some() {
                    "as its name says"
                } else {
                    "as set in the options: the column does not name its unit"
                };
                notes.push(format!("Effort is column {name}, read as {unit} ({why})."));
            }
            (None, Some(_)) => notes.push(
                "Effort is the number of days from set to collected, in weeks; a sample's week is that of the day halfway."
                    .into(),
            ),
            (None, None) => notes.push(
                "No effort column and no set and collected dates: each row counts as one unit of effort, taken as one trap-week."
                    .into(),
            ),
        }
        if self.decimals[1].is_some() {
            notes.push("Commas in the effort are read as decimal commas.".into());
        }
        if tally("pairs") > 0 {
            let order = if day_first {
                "day, month"
            } else {
                "month, day"
            };
            let how = if self.options.day_first.is_some() {
                "as set in the options"
            } else {
                "as days above 12 show"
            };
            notes.push(format!("Dates are read as {order}, year ({how})."));
        }
        let lines = [
            (
                "not counted",
                "without a count: not counted, left out. They are not zeros.",
            ),
            (
                "lost zeros",
                "with a count of 0 beside a word such as lost or damaged: if the trap did not work, empty the count.",
            ),
            (
                "efforts at odds",
                "in which the effort differs by more than a day from set and collected: the effort column is used.",
            ),
            (
                "weeks at odds",
                "in which the week column is not the ISO week of the date: the date is used.",
            ),
        ];
        for (what, words) in lines {
            if tally(what) > 0 {
                let n = tally(what);
                notes.push(format!(
                    "{n} {} {words}",
                    if n == 1 { "row" } else { "rows" }
                ));
            }
        }
        if self.table.empty_rows > 0 {
            notes.push(format!("{} empty rows skipped.", self.table.empty_rows));
        }
        notes
    }
}
