//! Where the names of choices stand, beside the rings about them.

use crate::plot::{LINE, Panel};
use crate::words::width;

/// Radius of the ring about a choice that has a name.
pub const RING: f64 = 8.0;
/// Size of a name's letters, in pixels.
const NAME: f64 = 12.0;
/// Places tried for a name below its choice, and as many above.
const STEPS: u32 = 8;
/// How many of these are near enough for a name that keeps clear of what was simulated.
const NEAR: u32 = 3;

/// A part of the picture that something covers.
#[derive(Clone, Copy)]
pub struct Area {
    /// From left to right.
    pub x: (f64, f64),
    /// From top to bottom.
    pub y: (f64, f64),
}

impl Area {
    /// The ring about a choice.
    pub fn ring((x, y): (f64, f64)) -> Self {
        let r = RING + 1.0;
        Self {
            x: (x - r, x + r),
            y: (y - r, y + r),
        }
    }

    /// The surroundings of a ring, where a name would be taken for that choice's.
    fn about((x, y): (f64, f64)) -> Self {
        let r = RING + NAME;
        Self {
            x: (x - r, x + r),
            y: (y - r, y + r),
        }
    }

    /// What was simulated of a choice: its dot and its interval.
    pub fn whisker(x: f64, y: (f64, f64)) -> Self {
        Self {
            x: (x - 3.5, x + 3.5),
            y,
        }
    }

    /// Whether they cover something together.
    pub fn meets(&self, other: &Self) -> bool {
        let apart = |a: (f64, f64), b: (f64, f64)| a.1 <= b.0 || b.1 <= a.0;
        !apart(self.x, other.x) && !apart(self.y, other.y)
    }
}

/// A name and where it begins, or ends; `y` is the line that its letters stand on.
pub struct Placed<'a> {
    pub name: &'a str,
    pub x: f64,
    pub y: f64,
    pub end: bool,
    pub area: Area,
    /// Where a line leads from the ring to the name, where that is further off than usual: its ends' heights.
    pub leader: Option<(f64, f64)>,
}

impl<'a> Placed<'a> {
    fn new(name: &'a str, (x, ring): (f64, f64), y: f64, end: bool) -> Self {
        let long = width(name, NAME);
        let from = if end { x - long } else { x };
        let area = Area {
            x: (from, from + long),
            y: (y - 0.8 * NAME, y + 0.3 * NAME),
        };
        let (below, above) = (area.y.0 - ring, ring - area.y.1);
        let leader = if below > 2.0 * NAME {
            Some((ring + RING, area.y.0))
        } else if above > 2.0 * NAME {
            Some((ring - RING, area.y.1))
        } else {
            None
        };
        Self {
            name,
            x,
            y,
            end,
            area,
            leader,
        }
    }
}

/// The names of choices at their places in the picture: below or above them, as near as no ring and no other name is in
/// the way, nor, where there is room enough, the surroundings of another ring or one of the whiskers; to the right where
/// it fits, or else to the left.
pub fn placed<'a>(
    named: &[(&'a str, (f64, f64))],
    whiskers: &[Area],
    panel: &Panel,
) -> Vec<Placed<'a>> {
    let mut taken: Vec<Area> = named.iter().map(|&(_, at)| Area::ring(at)).collect();
    let mut all = Vec::new();
    for (i, &(name, (x, ring))) in named.iter().enumerate() {
        let others = named.iter().enumerate().filter(|(j, _)| *j != i);
        let others: Vec<Area> = others.map(|(_, &(_, at))| Area::about(at)).collect();
        let all_soft = [whiskers, &others].concat();
        let long = width(name, NAME);
        let (right, left) = (x + long <= panel.right, x - long >= panel.left);
        let at = |y: f64, end: bool| {
            let y = y.clamp(panel.top + NAME, panel.bottom - 4.0);
            Placed::new(name, (x, ring), y, end)
        };
        let free = |steps: u32, soft: &[Area]| {
            let mut tries = (0..steps).flat_map(|step| {
                let off = f64::from(step) * LINE;
                let sides = [(right, false), (left, true)].into_iter();
                let fitting = sides.filter(|(fits, _)| *fits);
                fitting.flat_map(move |(_, end)| {
                    [at(ring + 24.0 + off, end), at(ring - 14.0 - off, end)]
                })
            });
            tries.find(|p| !taken.iter().chain(soft).any(|t| t.meets(&p.area)))
        };
        // Where all is full it stands in its usual place.
        let one = free(NEAR, &all_soft)
            .or_else(|| free(STEPS, &others))
            .or_else(|| free(STEPS, &[]))
            .unwrap_or_else(|| at(ring + 24.0, !right));
        taken.push(one.area);
        all.push(one);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_far_from_its_ring_has_a_line_to_it() {
        let leader = |y: f64| Placed::new("this plan", (50.0, 100.0), y, false).leader;
        assert_eq!((leader(124.0), leader(86.0)), (None, None));
        let (from, to) = leader(160.0).expect("it stands below");
        assert!(from == 108.0 && (150.0..152.0).contains(&to), "{from} {to}");
        let (from, to) = leader(60.0).expect("it stands above");
        assert!(from == 92.0 && (62.0..65.0).contains(&to), "{from} {to}");
    }
}
