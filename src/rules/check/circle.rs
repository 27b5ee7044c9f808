//! Circles among ids, each found once and shown as a whole path.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use petgraph::algo::kosaraju_scc;
use petgraph::graphmap::DiGraphMap;

use crate::base::{Code, Diagnostic, Place};

/// Which id leads to which, and where that is written.
#[derive(Debug, Default)]
pub(super) struct Links<'p> {
    of: BTreeMap<&'p str, BTreeMap<&'p str, Place>>,
}

impl<'p> Links<'p> {
    /// Adds a link; the first place counts.
    pub(super) fn add(&mut self, from: &'p str, to: &'p str, place: &Place) {
        self.of
            .entry(from)
            .or_default()
            .entry(to)
            .or_insert_with(|| place.clone());
    }

    fn next(&self, from: &str) -> impl Iterator<Item = &'p str> {
        self.of
            .get(from)
            .into_iter()
            .flat_map(|to| to.keys().copied())
    }

    /// A shortest circle of every set of ids that all lead to one another, from its least id on.
    pub(super) fn circles(&self) -> Vec<Vec<&'p str>> {
        let mut graph: DiGraphMap<&'p str, ()> = DiGraphMap::new();
        for (from, to) in &self.of {
            for to in to.keys() {
                graph.add_edge(from, to, ());
            }
        }
        let mut all: Vec<Vec<&'p str>> = kosaraju_scc(&graph)
            .into_iter()
            .filter_map(|members| {
                let members: BTreeSet<&'p str> = members.into_iter().collect();
                self.shortest(&members)
            })
            .collect();
        all.sort();
        all
    }

    /// The shortest way within some ids from the least of them back to itself, if there is one.
    fn shortest(&self, members: &BTreeSet<&'p str>) -> Option<Vec<&'p str>> {
        let (start, _) = self.of.get_key_value(members.first()?)?;
        let mut before: BTreeMap<&str, &'p str> = BTreeMap::new();
        let mut open = VecDeque::from([*start]);
        while let Some(at) = open.pop_front() {
            for to in self.next(at).filter(|to| members.contains(to)) {
                if to == *start {
                    let mut path = vec![at];
                    let mut here = at;
                    while let Some(earlier) = before.get(here) {
                        path.push(earlier);
                        here = earlier;
                    }
                    path.reverse();
                    return Some(path);
                }
                if !before.contains_key(to) {
                    before.insert(to, at);
                    open.push_back(to);
                }
            }
        }
        None
    }

    /// The ids from which more than `most` others follow one another in a row, circles left out.
    pub(super) fn deeper_than(&self, most: usize) -> Vec<&'p str> {
        let mut waits: BTreeMap<&str, usize> = BTreeMap::new();
        let mut back: BTreeMap<&str, Vec<&'p str>> = BTreeMap::new();
        for (from, to) in &self.of {
            waits.insert(from, to.len());
            for to in to.keys() {
                waits.entry(to).or_insert(0);
                back.entry(to).or_default().push(from);
            }
        }
        let mut open: VecDeque<&str> = waits
            .iter()
            .filter(|(_, waits)| **waits == 0)
            .map(|(id, _)| *id)
            .collect();
        let mut depths: BTreeMap<&str, usize> = BTreeMap::new();
        let mut found = Vec::new();
        while let Some(at) = open.pop_front() {
            let depth = depths.get(at).copied().unwrap_or(0);
            for from in back.get(at).into_iter().flatten() {
                let held = depths.entry(from).or_insert(0);
                let was = *held;
                *held = was.max(depth + 1);
                if was <= most && *held > most {
                    found.push(*from);
                }
                if let Some(waits) = waits.get_mut(from) {
                    *waits -= 1;
                    if *waits == 0 {
                        open.push_back(from);
                    }
                }
            }
        }
        found
    }

    /// The problem of one circle, told where its first id leads on.
    pub(super) fn problem(
        &self,
        code: Code,
        path: &[&'p str],
        what: &str,
        help: &str,
    ) -> Option<Diagnostic> {
        let first = path.first()?;
        let mut shown = path.join(" → ");
        shown.push_str(" → ");
        shown.push_str(first);
        let mut links = path.iter().zip(path.iter().cycle().skip(1));
        let place = |(from, to): (&&str, &&str)| {
            self.of
                .get(*from)
                .and_then(|to_all| to_all.get(*to))
                .cloned()
        };
        let start = links.next().and_then(place)?;
        let mut problem = Diagnostic::new(code, start, format!("{what}: {shown}"), help);
        for (from, to) in links {
            if let Some(at) = place((from, to)) {
                problem = problem.with_also(at, format!("`{from}` leads to `{to}`"));
            }
        }
        Some(problem)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn links(pairs: &[(&'static str, &'static str)]) -> Links<'static> {
        let mut links = Links::default();
        for (from, to) in pairs {
            links.add(from, to, &Place::unknown());
        }
        links
    }

    #[test]
    fn finds_each_circle_once_and_whole() {
        let found = links(&[
            ("c", "a"),
            ("a", "b"),
            ("b", "c"),
            ("x", "a"),
            ("s", "s"),
            ("p", "q"),
            ("q", "p"),
            ("a", "z"),
        ]);
        assert_eq!(
            found.circles(),
            [vec!["a", "b", "c"], vec!["p", "q"], vec!["s"]]
        );
        assert!(
            links(&[("a", "b"), ("b", "c"), ("a", "c")])
                .circles()
                .is_empty()
        );
    }

    #[test]
    fn a_long_row_does_not_use_up_the_stack() {
        let names: Vec<String> = (0..50_000).map(|n| format!("n{n:06}")).collect();
        let mut long = Links::default();
        for (one, other) in names.iter().zip(names.iter().skip(1)) {
            long.add(one, other, &Place::unknown());
        }
        assert!(long.circles().is_empty());
        assert_eq!(long.deeper_than(49_998), ["n000000"]);
        long.add("n049999", "n000000", &Place::unknown());
        assert_eq!(long.circles().first().map(Vec::len), Some(50_000));
    }

    #[test]
    fn measures_depth() {
        let tree = links(&[("a", "b"), ("b", "c"), ("a", "c"), ("d", "a")]);
        assert_eq!(tree.deeper_than(2), ["d"]);
        assert_eq!(tree.deeper_than(1), ["a", "d"]);
        assert!(tree.deeper_than(3).is_empty());
    }
}
