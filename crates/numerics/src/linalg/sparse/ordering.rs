//! The order of elimination by minimum degree: next is always the variable linked to the fewest others that are
//! left (Tinney & Walker 1967, Proc. IEEE 55:1801), the first of them when several are.

use std::collections::BTreeSet;

/// Variables in the order of elimination, with those each was linked to when it was eliminated (the pattern of its
/// column of L); and those that are left, nearly all linked to each other, for a dense tail.
pub(super) struct Ordering {
    pub head: Vec<(usize, Vec<usize>)>,
    pub tail: Vec<usize>,
}

/// Orders `n` variables linked by `pairs`.
pub(super) fn minimum_degree(
    n: usize,
    pairs: impl IntoIterator<Item = (usize, usize)>,
) -> Ordering {
    let mut linked: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); n];
    for (a, b) in pairs {
        if a != b {
            linked[a].insert(b);
            linked[b].insert(a);
        }
    }
    let mut queue: BTreeSet<(usize, usize)> = (0..n).map(|v| (linked[v].len(), v)).collect();
    let mut head = Vec::new();
    while let Some(&(degree, v)) = queue.first() {
        // A graph three quarters full is cheaper as a dense block than by its pattern.
        if 4 * degree >= 3 * (queue.len() - 1) {
            break;
        }
        queue.remove(&(degree, v));
        let near: Vec<usize> = std::mem::take(&mut linked[v]).into_iter().collect();
        for &a in &near {
            queue.remove(&(linked[a].len(), a));
            linked[a].remove(&v);
            linked[a].extend(near.iter().copied().filter(|&b| b != a));
            queue.insert((linked[a].len(), a));
        }
        head.push((v, near));
    }
    let mut tail: Vec<usize> = queue.into_iter().map(|(_, v)| v).collect();
    tail.sort_unstable();
    Ordering { head, tail }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Leaves before their star's centre; a crossed layout leaves its smaller side.
    #[test]
    fn few_links_first() {
        let star = minimum_degree(9, (1..9).map(|leaf| (0, leaf)));
        assert!(star.head.iter().all(|(v, near)| *v != 0 && near == &[0]));
        assert!(star.tail.contains(&0));
        let crossed = minimum_degree(25, (0..20).flat_map(|s| (20..25).map(move |y| (s, y))));
        let sites: Vec<usize> = crossed.head.iter().map(|(v, _)| *v).collect();
        // The last two sites and the five years are three quarters linked: a dense tail.
        assert_eq!(sites, (0..18).collect::<Vec<_>>());
    }

    #[test]
    fn a_full_graph_is_all_tail() {
        let full = minimum_degree(6, (0..6).flat_map(|a| (0..a).map(move |b| (a, b))));
        assert!(full.head.is_empty() && full.tail.len() == 6);
        assert!(minimum_degree(0, []).tail.is_empty());
    }
}
