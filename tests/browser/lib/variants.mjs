// Every question, analysis and other choice of the scenario format, as small scenarios. The choices are
// read from the schema that the command line prints, so that a new variant is tested without anybody
// remembering it; a new question stops the tests until it has an example here.
import assert from "node:assert/strict";
import { demo } from "./planner.mjs";

/** A demonstration scenario for each question, by the question's key in the file. */
const EXAMPLES = {
  decline: "meadow-beetles.json",
  no_worse: "meadow-no-worse.json",
  difference: "orchard-hoverflies.json",
  before_after: "meadow-mowing.json",
  occupancy: "mountain-occupancy.json",
  range_shift: "mountain-moths.json",
  absence: "orchard-absence.json",
  baseline: "orchard-baseline.json",
  inventory: "meadow-inventory.json",
};

/** Further examples of questions, for what an example of the question alone does not reach. */
const MORE = { range_shift: ["mountain-edge.json"] };

/** Small enough to be simulated in no time. */
const SMALL = { sites: 8, traps_per_site: 2, weeks: 2 };

/** The variants of a choice; none for a number or a text. */
function variants(of) {
  if ("const" in of) return [of.const];
  if ("enum" in of) return of.enum;
  if (of.type === "boolean") return [false, true];
  return [...(of.oneOf ?? []), ...(of.anyOf ?? [])].flatMap(variants);
}

/** Every combination of one variant for each key. */
function combinations(choices) {
  return choices.reduce(
    (all, [key, values]) => all.flatMap((one) => values.map((value) => ({ ...one, [key]: value }))),
    [{}],
  );
}

/**
 * `{ name, scenario }` for every question with every combination of the analysis, and with every other
 * choice and departure by itself and all departures together. Some the format refuses.
 */
export async function everyVariant(schema) {
  const { question, plan, premises, analysis } = schema.properties;
  const analyses = Object.entries(analysis.properties)
    .map(([key, of]) => [key, variants(of)])
    .filter(([, values]) => values.length > 0);
  const departures = Object.keys(premises.properties.departures.properties);
  const all = [];
  const examples = question.properties.effect.oneOf.flatMap((effect) => {
    const [key] = effect.required;
    assert.ok(key in EXAMPLES, `the question "${key}" has no example`);
    return [[key, EXAMPLES[key]], ...(MORE[key] ?? []).map((file) => [`${key} (${file})`, file])];
  });
  for (const [key, file] of examples) {
    const example = JSON.parse(await demo(file));
    const twice = example.plan.visits?.seasons === "first_and_last";
    Object.assign(example.plan, SMALL, { years: twice ? 2 : 5 });
    Object.assign(example.limits, SMALL);
    const add = (name, change) => {
      const scenario = structuredClone(example);
      change(scenario);
      all.push({ name: `${key} ${name}`, scenario });
    };
    for (const chosen of combinations(analyses)) {
      add(Object.values(chosen).join(" "), (s) => Object.assign(s.analysis, chosen));
    }
    for (const direction of variants(question.properties.direction)) {
      add(direction, (s) => (s.question.direction = direction));
    }
    for (const points of variants(plan.properties.trap_points)) {
      add(points, (s) => (s.plan.trap_points = points));
    }
    add("in chosen weeks", ({ plan, premises }) => {
      const given = (value) => ({ value, source: "invented" });
      plan.chosen_weeks = [plan.first_week, plan.first_week + 2];
      premises.target.reproductives = { share_at_peak: given(0.5), peak_week: given(plan.first_week), width_weeks: given(2) };
    });
    if (example.plan.transect) {
      for (const placing of ["even", "random", "dense_at_edge"]) {
        add(placing, (s) => (s.plan.transect.placing = placing));
      }
      for (const of of ["optimum", "upper_edge", "lower_edge"]) {
        add(of, (s) => (s.question.effect.range_shift.of = of));
      }
    }
    // Planned looks; some questions allow none.
    add("planned looks", (s) => {
      s.plan.looks = {
        after_years: [4],
        boundary: "spend_obrien_fleming",
        futility: { rule: { conditional_power: 0.2 }, binding: false },
      };
    });
    // Patterns of revisits over five years, a gap, and what does not come back; some questions take none.
    for (const [sites, revisit] of [
      [8, { every_k: { years: 2 } }],
      [8, { alternating: { panels: 2 } }],
      [8, { augmented: { always: 4, panels: 2 } }],
      [16, { rotating: { stay: 4 } }],
      [14, { split: { always: 4 } }],
      [20, "new_each_year"],
    ]) {
      add(JSON.stringify(revisit), (s) => {
        Object.assign(s.plan, { sites, revisit });
        s.limits.sites = sites;
      });
    }
    add("gap", (s) => (s.plan.gap_years = [3]));
    for (const key of ["attrition", "late_share"]) {
      add(key, (s) => (s.premises[key] = { value: 0.2, source: "invented" }));
    }
    // Sites at fixed places; some questions take none.
    add("fixed places", (s) => {
      const t = s.plan.transect;
      const position = (i) => (t ? { position: t.lowest + ((t.highest - t.lowest) * i * i) / 81 } : {});
      s.plan.places = Array.from({ length: 10 }, (_, i) => ({ name: `place ${i}`, ...position(i) }));
      if (t) t.placing = "listed";
    });
    // Two more species beside the target; some questions ask of one alone.
    add("several species", (s) => {
      const other = (name, value) => ({
        ...structuredClone(s.premises.target),
        name,
        catch_per_trap_week: { value, source: "invented" },
      });
      s.premises.others = [other("a rare one", 0.6), other("a common one", 20)];
      s.question.several = { answered_share: 0.6, control: "holm" };
    });
    // Hours and money, the laboratory's work in the next year.
    add("costs", (s) => {
      const rate = (value) => ({ value, source: "invented" });
      s.premises.costs = {
        currency: "marks",
        field_wage: rate(20),
        laboratory_wage: rate(18),
        sites_per_day: rate(3),
        travel_hours_per_day: rate(2),
        minutes_per_trap: rate(7),
        sorting_hours_per_sample: rate(0.7),
        sorting_minutes_per_100: rate(9),
        minutes_per_target: rate(1.3),
        minutes_per_bycatch: rate(0.3),
        laboratory_lag_weeks: rate(40),
        laboratory_staff_hours: rate(10),
        stepped: [
          {
            name: "microscope",
            of: "laboratory_hours",
            takes_on: rate(12),
            money: rate(900),
            paid: "once",
          },
        ],
      };
    });
    // A kind of trap that is not the premises', and an end of animals that do not all come back.
    const guess = (value) => ({ value, source: "guess" });
    add("a kind of trap", (s) => {
      s.premises.trap_options = [
        { name: "unused", catch_factor: guess(3) },
        {
          name: "funnel",
          catch_factor: guess(0.7),
          k_factor: guess(1.5),
          bycatch: [{ class: "vertebrate", factor: guess(0.3) }],
        },
      ];
      s.plan.trap_option = "funnel";
    });
    add("an end of animals", (s) => {
      s.premises.local_population = { animals: guess(60), recovery: guess(0.6) };
    });
    const little = (keys) =>
      Object.fromEntries(keys.map((one) => [one, { value: 0.1, source: "invented" }]));
    for (const one of departures) {
      add(one, (s) => (s.premises.departures = little([one])));
    }
    add("all departures", (s) => (s.premises.departures = little(departures)));
    // What a weekly analysis is told of: each thing, all of them, and nothing.
    for (const [list, of] of Object.entries(analysis.properties)) {
      const things = of.items ? variants(of.items) : [];
      for (const told of things.length > 0 ? [...things.map((one) => [one]), things, []] : []) {
        add(`told of ${told.join(", ")}`, (s) => {
          s.premises.departures = little(departures);
          Object.assign(s.analysis, { rows: "weeks", [list]: told });
        });
      }
    }
  }
  return all;
}
