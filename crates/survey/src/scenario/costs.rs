//! What the survey costs: rates in hours and money. Nothing of it touches the simulation.

use super::premise::{Premise, Source};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Most characters of a currency's name.
pub const CURRENCY_LENGTH: usize = 8;
/// Most stepped costs.
pub const MOST_STEPPED: usize = 20;

/// Rates of hours and money. What is left out is 0, unless its own words say otherwise.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Costs {
    /// The currency, as text: 1 to 8 characters, shown behind every sum of money.
    pub currency: String,
    /// Money for an hour of travel and field work.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub field_wage: Premise,
    /// Money for an hour in the laboratory.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub laboratory_wage: Premise,
    /// Sites that one round of visits takes in on one day; rounds take whole days.
    pub sites_per_day: Premise,
    /// Visits to each site in a week of trapping: 1 where emptying sets the trap anew, 2 where traps are opened and
    /// closed again; 1 when left out.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub visits_per_week: Premise,
    /// Visits to each site before the first week of a season, such as one to set the traps up.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub visits_before_season: Premise,
    /// People who travel together: multiplies the hours of travel alone; 1 when left out.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub people: Premise,
    /// Hours of travel on one day, each person's.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub travel_hours_per_day: Premise,
    /// Money for the distance of one day, whatever the number of people.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub travel_money_per_day: Premise,
    /// Hours of work of one visit to a site, whatever its number of traps; of all people together.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub hours_per_site_visit: Premise,
    /// Minutes to empty or set one trap at one visit in a week of trapping.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub minutes_per_trap: Premise,
    /// Minutes to set one trap up before a season.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub minutes_to_set_up: Premise,
    /// Minutes to take one trap down after a season.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub minutes_to_take_down: Premise,
    /// Money for one trap.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub trap_price: Premise,
    /// Seasons that a trap lasts: all are bought anew after so many; 1 when left out.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub trap_life_years: Premise,
    /// Money for what one trap uses up in one week of trapping, such as fluid, vials and labels.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub money_per_trap_week: Premise,
    /// What is one sample in the laboratory.
    #[serde(default, skip_serializing_if = "Sample::is_trap")]
    pub sample: Sample,
    /// Hours to sort one sample, whatever is in it.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub sorting_hours_per_sample: Premise,
    /// Minutes to sort a hundred animals, besides.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub sorting_minutes_per_100: Premise,
    /// Minutes to identify one animal of the target, or of another species that is asked about.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub minutes_per_target: Premise,
    /// Minutes to identify one animal of the by-catch.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub minutes_per_bycatch: Premise,
    /// Share of the target, and of other species that are asked about, that is kept in a collection.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub kept_share: Premise,
    /// Minutes to pin or mount, label and record one animal that is kept.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub curation_minutes: Premise,
    /// Weeks from a catch to the work on it in the laboratory.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub laboratory_lag_weeks: Premise,
    /// Money each year with trapping, whatever the plan: coordination, permits, storage.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub money_per_year: Premise,
    /// Money once, in the first year, whatever the plan.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub money_once: Premise,
    /// Hours of travel and field work that staff have in a month; 0: not stated.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub field_staff_hours: Premise,
    /// Hours in the laboratory that staff have in a month; 0: not stated.
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub laboratory_staff_hours: Premise,
    /// Things that are needed in whole numbers.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub stepped: Vec<Stepped>,
}

/// What is one sample in the laboratory.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Sample {
    /// The catch of one trap in one week.
    #[default]
    Trap,
    /// The catches of all traps of a site in one week, pooled.
    Site,
}

impl Sample {
    /// One trap's: left out of files.
    pub fn is_trap(&self) -> bool {
        *self == Self::Trap
    }
}

/// Something needed in whole numbers: one for each so much of the busiest month, such as a vehicle for each 20 travel
/// days.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Stepped {
    /// What it is.
    pub name: String,
    /// Of what one takes on a part.
    pub of: SteppedBy,
    /// How much of it one takes on in a month.
    pub takes_on: Premise,
    /// Money for one.
    pub money: Premise,
    /// When it is paid.
    pub paid: Paid,
}

/// What a stepped cost follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SteppedBy {
    /// Travel days of a month.
    TravelDays,
    /// Hours of travel and field work of a month.
    FieldHours,
    /// Hours in the laboratory of a month.
    LaboratoryHours,
}

/// When a stepped cost is paid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Paid {
    /// Once for each, in the first year that needs so many.
    Once,
    /// Every year, for as many as that year needs.
    Yearly,
}

impl SteppedBy {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::TravelDays, Self::FieldHours, Self::LaboratoryHours];
}

impl Paid {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Once, Self::Yearly];
}

fn plain(value: f64) -> Premise {
    Premise::new(value, Source::Guess)
}

fn nothing() -> Premise {
    plain(0.0)
}

fn is_nothing(premise: &Premise) -> bool {
    *premise == nothing()
}

fn one() -> Premise {
    plain(1.0)
}

fn is_one(premise: &Premise) -> bool {
    *premise == one()
}

impl Costs {
    /// Costs with nothing but a currency and the sites of a day.
    pub fn new(currency: &str, sites_per_day: Premise) -> Self {
        Self {
            currency: currency.into(),
            field_wage: nothing(),
            laboratory_wage: nothing(),
            sites_per_day,
            visits_per_week: one(),
            visits_before_season: nothing(),
            people: one(),
            travel_hours_per_day: nothing(),
            travel_money_per_day: nothing(),
            hours_per_site_visit: nothing(),
            minutes_per_trap: nothing(),
            minutes_to_set_up: nothing(),
            minutes_to_take_down: nothing(),
            trap_price: nothing(),
            trap_life_years: one(),
            money_per_trap_week: nothing(),
            sample: Sample::Trap,
            sorting_hours_per_sample: nothing(),
            sorting_minutes_per_100: nothing(),
            minutes_per_target: nothing(),
            minutes_per_bycatch: nothing(),
            kept_share: nothing(),
            curation_minutes: nothing(),
            laboratory_lag_weeks: nothing(),
            money_per_year: nothing(),
            money_once: nothing(),
            field_staff_hours: nothing(),
            laboratory_staff_hours: nothing(),
            stepped: Vec::new(),
        }
    }

    /// Costs to begin with. Sorting a pitfall or light sample takes .5 to 2 hours and pinning a bee 3 to 5 minutes:
    /// common practice, without a published source. Everything else is a guess to be replaced, the currency included.
    pub fn usual() -> Self {
        let common = |v, low, high| Premise::ranged(v, low, high, Source::CommonPractice);
        Self {
            field_wage: plain(20.0),
            laboratory_wage: plain(20.0),
            visits_before_season: plain(1.0),
            travel_hours_per_day: plain(2.0),
            travel_money_per_day: plain(40.0),
            hours_per_site_visit: plain(0.25),
            minutes_per_trap: plain(5.0),
            minutes_to_set_up: plain(15.0),
            minutes_to_take_down: plain(5.0),
            trap_price: plain(2.0),
            trap_life_years: plain(3.0),
            money_per_trap_week: plain(0.5),
            sorting_hours_per_sample: common(1.0, 0.5, 2.0),
            minutes_per_target: plain(1.0),
            kept_share: plain(0.05),
            curation_minutes: common(4.0, 3.0, 5.0),
            ..Self::new("units", plain(6.0))
        }
    }
}

impl Stepped {
    /// A further one to be edited: a vehicle for each 20 travel days of a month.
    pub fn usual() -> Self {
        Self {
            name: "vehicle".into(),
            of: SteppedBy::TravelDays,
            takes_on: plain(20.0),
            money: plain(3000.0),
            paid: Paid::Yearly,
        }
    }
}
