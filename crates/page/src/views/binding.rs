//! A number of the scenario as a control sees it.

use engine::scenario::fields::{BYCATCH, CATCH_FACTOR, Field, STEPPED, TARGET, TRAP_OPTION, find};
use engine::scenario::{CatchFactor, Premise, Scenario};
use std::sync::Arc;

type Read<T> = Arc<dyn Fn(&Scenario) -> Option<T> + Send + Sync>;
type Write = Arc<dyn Fn(&mut Scenario, f64) + Send + Sync>;
type Change = Arc<dyn Fn(&mut Scenario, &mut dyn FnMut(&mut Premise)) + Send + Sync>;

/// A number with its name, bounds and place.
#[derive(Clone)]
pub struct Binding {
    /// Place in the file; also the control's id.
    pub path: String,
    /// Name.
    pub label: String,
    /// Unit.
    pub unit: &'static str,
    /// The bound in words.
    pub bound: String,
    /// Smallest and largest value.
    pub ends: (f64, f64),
    /// Whether a value is allowed.
    pub allows: Arc<dyn Fn(f64) -> bool + Send + Sync>,
    /// The number.
    pub read: Read<f64>,
    /// Sets the number.
    pub write: Write,
    /// The premise, when it is one.
    pub premise: Option<Read<Premise>>,
    /// Changes the premise, when it is one.
    pub change_premise: Option<Change>,
}

fn base<T: 'static>(path: String, field: &'static Field<T>) -> Binding {
    Binding {
        path,
        label: field.label.to_string(),
        unit: field.unit,
        bound: field.bound(),
        ends: (field.low, field.high),
        allows: Arc::new(|v| field.allows(v)),
        read: Arc::new(|_| None),
        write: Arc::new(|_, _| {}),
        premise: None,
        change_premise: None,
    }
}

/// A premise changed by hand is the user's guess, and a range that no longer holds the value is dropped.
fn by_hand(premise: &mut Premise) {
    premise.source = engine::scenario::Source::Guess;
    premise.citation = None;
    if premise.low.is_some_and(|l| l > premise.value)
        || premise.high.is_some_and(|h| h < premise.value)
    {
        premise.low = None;
        premise.high = None;
    }
}

/// The number at a path of the scenario; `None` for a path that is none.
pub fn of(path: &str) -> Option<Binding> {
    let field = find(path)?;
    let mut binding = base(field.path.to_string(), field);
    binding.read = Arc::new(|s| (field.read)(s));
    binding.write = Arc::new(|s, v| {
        (field.write)(s, v);
        if let Some(premise) = field.premise_mut.and_then(|p| p(s)) {
            by_hand(premise);
        }
    });
    if let (Some(get), Some(change)) = (field.premise, field.premise_mut) {
        binding.premise = Some(Arc::new(move |s| get(s).cloned()));
        binding.change_premise = Some(Arc::new(move |s, f| {
            if let Some(p) = change(s) {
                f(p);
            }
        }));
    }
    Some(binding)
}

/// The numbers of by-catch group `i`.
pub fn of_group(i: usize) -> Vec<Binding> {
    let list = List {
        key: "bycatch",
        get: |s| &s.premises.bycatch,
        get_mut: |s| Some(&mut s.premises.bycatch),
    };
    BYCATCH.iter().map(|field| list.field(i, field)).collect()
}

/// The numbers of the other species `i`.
pub fn of_other(i: usize) -> Vec<Binding> {
    let list = List {
        key: "others",
        get: |s| &s.premises.others,
        get_mut: |s| Some(&mut s.premises.others),
    };
    TARGET.iter().map(|field| list.field(i, field)).collect()
}

/// The numbers of the stepped cost `i`.
pub fn of_stepped(i: usize) -> Vec<Binding> {
    let list = List {
        key: "costs.stepped",
        get: |s| s.premises.costs.as_ref().map_or(&[], |c| &c.stepped),
        get_mut: |s| s.premises.costs.as_mut().map(|c| &mut c.stepped),
    };
    STEPPED.iter().map(|field| list.field(i, field)).collect()
}

/// The numbers of the option of traps `i`.
pub fn of_option(i: usize) -> Vec<Binding> {
    let list = List {
        key: "trap_options",
        get: |s| &s.premises.trap_options,
        get_mut: |s| Some(&mut s.premises.trap_options),
    };
    let fields = TRAP_OPTION.iter();
    fields.map(|field| list.field(i, field)).collect()
}

/// The factor `j` of the option of traps `i`.
pub fn of_factor(i: usize, j: usize) -> Option<Binding> {
    fn at(s: &Scenario, i: usize, j: usize) -> Option<&CatchFactor> {
        s.premises.trap_options.get(i)?.bycatch.get(j)
    }
    fn at_mut(s: &mut Scenario, i: usize, j: usize) -> Option<&mut CatchFactor> {
        s.premises.trap_options.get_mut(i)?.bycatch.get_mut(j)
    }
    let field = CATCH_FACTOR.first()?;
    let path = format!("premises.trap_options[{i}].bycatch[{j}].{}", field.path);
    let mut binding = base(path, field);
    binding.read = Arc::new(move |s| at(s, i, j).map(|f| f.factor.value));
    binding.write = Arc::new(move |s, v| {
        if let Some(f) = at_mut(s, i, j) {
            f.factor.value = v;
            by_hand(&mut f.factor);
        }
    });
    binding.premise = Some(Arc::new(move |s| at(s, i, j).map(|f| f.factor.clone())));
    binding.change_premise = Some(Arc::new(move |s, f| {
        if let Some(of) = at_mut(s, i, j) {
            f(&mut of.factor);
        }
    }));
    Some(binding)
}

/// A list of the premises.
struct List<T: 'static> {
    key: &'static str,
    get: fn(&Scenario) -> &[T],
    get_mut: fn(&mut Scenario) -> Option<&mut Vec<T>>,
}

impl<T> List<T> {
    fn field(&self, i: usize, field: &'static Field<T>) -> Binding {
        let (get, get_mut) = (self.get, self.get_mut);
        let mut binding = base(format!("premises.{}[{i}].{}", self.key, field.path), field);
        binding.read = Arc::new(move |s| get(s).get(i).and_then(|g| (field.read)(g)));
        binding.write = Arc::new(move |s, v| {
            if let Some(one) = get_mut(s).and_then(|l| l.get_mut(i)) {
                (field.write)(one, v);
                if let Some(premise) = field.premise_mut.and_then(|p| p(one)) {
                    by_hand(premise);
                }
            }
        });
        if let (Some(premise), Some(change)) = (field.premise, field.premise_mut) {
            binding.premise = Some(Arc::new(move |s| {
                get(s).get(i).and_then(|g| premise(g)).cloned()
            }));
            binding.change_premise = Some(Arc::new(move |s, f| {
                let one = get_mut(s).and_then(|l| l.get_mut(i));
                if let Some(p) = one.and_then(|g| change(g)) {
                    f(p);
                }
            }));
        }
        binding
    }
}
