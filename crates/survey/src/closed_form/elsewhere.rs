//! A test planned for one world, used in another.

use super::{Judged, effect_size, preview_at_stated, variances_at};
use crate::scenario::{Checked, Plan};

/// Power and false alarms in `world` of the test that is planned for the world of `planned`: its critical value is that
/// one's. Of chances (absence, precision, inventory) and of occupied sites they are the preview's own.
pub fn planned_elsewhere(planned: &Checked, world: &Checked, plan: &Plan) -> (f64, f64) {
    let own =
        planned.question.effect.is_chance() || planned.edge().is_some() || planned.by_occupancy();
    if own {
        let p = preview_at_stated(world, plan);
        return (p.power, p.false_alarm);
    }
    let effect = effect_size(planned);
    let believed = variances_at(planned, plan, effect);
    let here = variances_at(world, plan, effect);
    let planned = Judged::new(planned, plan, believed);
    let mut judged = Judged::new(world, plan, here);
    judged.critical = planned.critical * believed.inflation() / here.inflation();
    (judged.power(effect), judged.false_alarm())
}
