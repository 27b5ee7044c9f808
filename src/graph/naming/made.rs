//! A movement or round that nobody listed, put beside the listed exercises, so that its numbers are
//! worked out as theirs are.

use crate::base::{At, ConstraintId, ExerciseId};
use crate::graph::{Graph, build};
use crate::rules::pack::Pack;
use crate::rules::vocab::{Complex, Component, Names, Variation};

use super::{Meant, Movement, nearest_listed};

/// The rules with what was read among their exercises.
pub(crate) struct Added<'a> {
    pack: &'a Pack,
    graph: &'a Graph,
    /// Where it is not listed: the rules with it beside the listed ones.
    grown: Option<Box<(Pack, Graph)>>,
    pub(crate) exercise: usize,
}

impl Added<'_> {
    pub(crate) fn pack(&self) -> &Pack {
        self.grown.as_ref().map_or(self.pack, |grown| &grown.0)
    }

    pub(crate) fn graph(&self) -> &Graph {
        self.grown.as_ref().map_or(self.graph, |grown| &grown.1)
    }
}

/// The listed exercise that a movement varies least, with the constraints that it has beyond that.
fn parent(graph: &Graph, movement: &Movement) -> Option<(ExerciseId, Vec<At<ConstraintId>>)> {
    let at = nearest_listed(graph, movement);
    let own = graph.exercises.get(at)?.pieces.first()?;
    let beyond = movement.constraints.iter();
    let beyond = beyond.filter(|held| !own.body.constraints.has(*held));
    let ids = beyond.filter_map(|held| graph.constraints.get(held).cloned());
    Some((graph.ids.get(at)?.clone(), ids.map(At::nowhere).collect()))
}

/// The name of a movement: that of the listed exercise nearest to it, then each constraint beyond
/// that, by axis and then by id, with commas between them.
fn movement_name(pack: &Pack, graph: &Graph, movement: &Movement) -> String {
    let Some((parent, with)) = parent(graph, movement) else {
        return String::new();
    };
    let listed = graph.ids.find(parent.as_str());
    let listed = listed.and_then(|at| graph.exercises.get(at));
    let mut name = listed.map_or_else(String::new, |held| held.name.clone());
    let all = pack.axes.values().flat_map(|axis| {
        let mut held: Vec<_> = axis.constraints.iter().collect();
        held.sort_by(|one, other| one.0.cmp(other.0));
        held
    });
    for (id, held) in all.filter(|(id, _)| with.contains(id)) {
        let called = held.names.en.first();
        name.push_str(", ");
        name.push_str(&called.map_or_else(
            || id.as_str().replace('-', " "),
            |called| called.value.clone(),
        ));
    }
    name
}

/// The canonical name of what was read: a listed exercise's own; else that of each movement, with
/// plus signs between them and how often each is done at the end.
pub(crate) fn name_of(pack: &Pack, graph: &Graph, meant: &Meant) -> String {
    match meant {
        Meant::Listed(at) => graph
            .exercises
            .get(*at)
            .map_or_else(String::new, |held| held.name.clone()),
        Meant::Made(movement) => movement_name(pack, graph, movement),
        Meant::Round(all) => {
            let names = all
                .iter()
                .map(|(movement, _)| movement_name(pack, graph, movement));
            let reps: Vec<String> = all.iter().map(|(_, reps)| reps.to_string()).collect();
            let names: Vec<String> = names.collect();
            format!("{} ({})", names.join(" + "), reps.join("+"))
        }
    }
}

fn named(name: String) -> Names {
    Names {
        en: vec![At::nowhere(name)],
        formerly: Vec::new(),
    }
}

/// A movement as a variation of the listed exercise nearest to it, under its canonical name, with
/// that one's roles; what it is used for is not said.
pub(crate) fn variation(pack: &Pack, graph: &Graph, movement: &Movement) -> Option<Variation> {
    let (from, with) = parent(graph, movement)?;
    Some(Variation {
        names: named(movement_name(pack, graph, movement)),
        from: At::nowhere(from),
        with,
        drops: Vec::new(),
        reference: None,
        highest: None,
        trains: None,
        stress: None,
        effect: indexmap::IndexMap::new(),
        roles: None,
        asks: None,
        used_for: String::new(),
        because: None,
        source: indexmap::IndexMap::new(),
    })
}

/// Movements as a round, with the roles of the listed round of the same movements; where none is listed, those that all of them
/// have, else those of the first listed round that ends in the same root. It stays below its weakest part by as much as any
/// listed complex of no more repetitions does.
fn round(pack: &Pack, graph: &Graph, all: &[(Movement, u8)]) -> Complex {
    let components = all.iter().filter_map(|(movement, reps)| {
        let (exercise, with) = parent(graph, movement)?;
        Some(At::nowhere(Component {
            exercise: At::nowhere(exercise),
            reps: At::nowhere(*reps),
            with,
        }))
    });
    let components: Vec<At<Component>> = components.collect();
    let is_same = |at: &usize| {
        let pieces = graph
            .exercises
            .get(*at)
            .map_or(&[][..], |held| &held.pieces);
        let mut pairs = pieces.iter().zip(all);
        pieces.len() == all.len()
            && pairs.all(|(piece, (movement, _))| {
                piece.body.root == movement.root && piece.body.constraints == movement.constraints
            })
    };
    let listed = (0..graph.exercises.len()).find(is_same);
    let of = |at: usize| graph.exercises.get(at).map(|held| held.roles.clone());
    let each = all.iter();
    let each = each.filter_map(|(movement, _)| of(nearest_listed(graph, movement)));
    let common = each.reduce(|mut one, other| {
        one.retain(|role| other.contains(role));
        one
    });
    let common = common.filter(|roles| !roles.is_empty());
    // A round that ends in the same movement.
    let alike = || {
        let root = all.last()?.0.root;
        let ends_so = |at: &usize| {
            let held = graph.exercises.get(*at).filter(|held| held.is_complex());
            let last = held.and_then(|held| held.pieces.last());
            last.is_some_and(|piece| piece.body.root == root)
        };
        (0..graph.exercises.len()).find(ends_so).and_then(of)
    };
    let roles = listed.and_then(of).or(common).or_else(alike);
    let roles = roles.unwrap_or_default();
    Complex {
        names: named(name_of(pack, graph, &Meant::Round(all.to_vec()))),
        components,
        roles: roles.into_iter().map(At::nowhere).collect(),
        percent_less: percent_less(pack, all),
        trains: None,
        stress: None,
        asks: None,
        used_for: String::new(),
        source: indexmap::IndexMap::new(),
    }
}

/// An id that no exercise has, of a word and the first number from this on that makes one.
pub(crate) fn free_id(graph: &Graph, word: &str, from: usize) -> Option<ExerciseId> {
    let tries = (from..=from + graph.ids.len()).map(|number| format!("{word}-{number}"));
    let mut free = tries.filter(|id| graph.ids.find(id).is_none());
    free.next()?.parse().ok()
}

/// Puts what was read among the exercises of a pack that grows from these rules; nothing where it is listed.
pub(crate) fn put(
    (pack, graph): (&Pack, &Graph),
    meant: &Meant,
    id: ExerciseId,
    grown: &mut Pack,
) -> Option<()> {
    match meant {
        Meant::Listed(_) => {}
        Meant::Made(movement) => {
            let made = variation(pack, graph, movement)?;
            grown.variations.insert(At::nowhere(id), made);
        }
        Meant::Round(all) => {
            let complex = round(pack, graph, all);
            grown.complexes.insert(At::nowhere(id), complex);
        }
    }
    Some(())
}

/// The rules with what was read beside their own exercises; as they are where it is listed.
pub(crate) fn added<'a>(pack: &'a Pack, graph: &'a Graph, meant: &Meant) -> Option<Added<'a>> {
    if let Meant::Listed(at) = meant {
        return Some(Added {
            pack,
            graph,
            grown: None,
            exercise: *at,
        });
    }
    let id = free_id(graph, "read", 0)?;
    let mut grown = pack.clone();
    put((pack, graph), meant, id.clone(), &mut grown)?;
    let with_it = build(&grown).ok()?;
    let exercise = with_it.ids.find(id.as_str())?;
    Some(Added {
        pack,
        graph,
        grown: Some(Box::new((grown, with_it))),
        exercise,
    })
}

fn percent_less(pack: &Pack, round: &[(Movement, u8)]) -> u8 {
    let reps: u32 = round.iter().map(|(_, reps)| u32::from(*reps)).sum();
    let own = |complex: &&Complex| {
        let all = complex.components.iter();
        all.map(|component| u32::from(component.reps.value))
            .sum::<u32>()
            <= reps
    };
    let listed = pack.complexes.values().filter(own);
    listed
        .map(|complex| complex.percent_less)
        .max()
        .unwrap_or(0)
}
