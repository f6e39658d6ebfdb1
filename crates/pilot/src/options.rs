//! What the user says about the file.

use serde::{Deserialize, Serialize};

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// Place of the traps.
    Site,
    /// Trap within the site.
    Trap,
    /// Day of the sample.
    Date,
    /// Year of the sample.
    Year,
    /// ISO week of the sample.
    Week,
    /// Day the trap was opened.
    Set,
    /// Day the trap was emptied.
    Collected,
    /// Trap-weeks or trap-days behind the count.
    Effort,
    /// Group of animals.
    Taxon,
    /// Number of animals.
    Count,
}

impl Role {
    /// All roles.
    pub const ALL: [Self; 10] = [
        Self::Site,
        Self::Trap,
        Self::Date,
        Self::Year,
        Self::Week,
        Self::Set,
        Self::Collected,
        Self::Effort,
        Self::Taxon,
        Self::Count,
    ];

    /// The role's name, as in `--column count=ticks`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Site => "site",
            Self::Trap => "trap",
            Self::Date => "date",
            Self::Year => "year",
            Self::Week => "week",
            Self::Set => "set",
            Self::Collected => "collected",
            Self::Effort => "effort",
            Self::Taxon => "taxon",
            Self::Count => "count",
        }
    }

    /// The role of a name.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|r| r.name() == name)
    }
}

impl std::fmt::Display for Role {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name())
    }
}

/// Headers chosen by the user; where there is none, the column is recognised by its header.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Columns {
    /// Header of the site column.
    pub site: Option<String>,
    /// Header of the trap column.
    pub trap: Option<String>,
    /// Header of the date column.
    pub date: Option<String>,
    /// Header of the year column.
    pub year: Option<String>,
    /// Header of the week column.
    pub week: Option<String>,
    /// Header of the column with the day a trap was opened.
    pub set: Option<String>,
    /// Header of the column with the day a trap was emptied.
    pub collected: Option<String>,
    /// Header of the effort column.
    pub effort: Option<String>,
    /// Header of the column with the group of animals.
    pub taxon: Option<String>,
    /// Header of the count column.
    pub count: Option<String>,
}

impl Columns {
    /// The header chosen for a role.
    pub fn get(&self, role: Role) -> Option<&str> {
        match role {
            Role::Site => &self.site,
            Role::Trap => &self.trap,
            Role::Date => &self.date,
            Role::Year => &self.year,
            Role::Week => &self.week,
            Role::Set => &self.set,
            Role::Collected => &self.collected,
            Role::Effort => &self.effort,
            Role::Taxon => &self.taxon,
            Role::Count => &self.count,
        }
        .as_deref()
    }

    /// Chooses a header for a role.
    pub fn choose(&mut self, role: Role, header: &str) {
        let place = match role {
            Role::Site => &mut self.site,
            Role::Trap => &mut self.trap,
            Role::Date => &mut self.date,
            Role::Year => &mut self.year,
            Role::Week => &mut self.week,
            Role::Set => &mut self.set,
            Role::Collected => &mut self.collected,
            Role::Effort => &mut self.effort,
            Role::Taxon => &mut self.taxon,
            Role::Count => &mut self.count,
        };
        *place = Some(header.to_owned());
    }
}

/// Unit of an effort column whose header does not name one (`trap_days`, `days` and `nights` do).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum EffortUnit {
    /// One trap open for seven days.
    #[default]
    TrapWeeks,
    /// One trap open for a day.
    TrapDays,
}

impl EffortUnit {
    /// Trap-weeks in one unit.
    pub fn trap_weeks(self) -> f64 {
        match self {
            Self::TrapWeeks => 1.0,
            Self::TrapDays => 1.0 / 7.0,
        }
    }

    /// The unit in words.
    pub fn word(self) -> &'static str {
        match self {
            Self::TrapWeeks => "trap-weeks",
            Self::TrapDays => "trap-days",
        }
    }
}

/// Whether each site has its own deviation in each year in the target's model.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SiteYear {
    /// When there are two years, three sites and several counts in a site-year.
    #[default]
    Auto,
    /// Always when there are two years and two sites and several counts in a site-year.
    On,
    /// Never.
    Off,
}

/// How to read a pilot file.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Options {
    /// The file's name, for messages.
    pub file: String,
    /// Columns chosen by the user.
    pub columns: Columns,
    /// The group that is the target; without it the group with the largest total.
    pub target: Option<String>,
    /// Unit of effort when the header does not say.
    pub effort_unit: EffortUnit,
    /// Whether 03/04/2024 is 3 April; without it the file must tell by a day above 12.
    pub day_first: Option<bool>,
    /// The site-by-year term.
    pub site_year: SiteYear,
}
