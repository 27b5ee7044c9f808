//! From a drill to the full form: constraints are freed one at a time. What does not bear on the
//! cause is freed first, what takes the cause away last, and only then the load rises.

use crate::base::{CauseId, ConstraintId, ExerciseId, ReferenceId};
use crate::graph::{Bits, Graph};
use crate::rules::pack::Pack;
use crate::rules::vocab::Constraint;

use super::entries::Called;
use super::glossary::{Glossary, Named};

/// One rung of a ladder.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Rung {
    /// The listed exercise that is just this, where there is one.
    pub exercise: Option<ExerciseId>,
    /// Its name; where it is not listed, that of the exercise at the ladder's end.
    pub name: String,
    /// The constraints that are still there, by id.
    pub constraints: Vec<Called<ConstraintId>>,
    /// What was freed since the rung before; none on the first.
    pub freed: Option<Called<ConstraintId>>,
    /// What the freed constraint does to the cause that was asked about, -3 to 3.
    pub bears: i64,
    /// The most that can be done, in percent of the reference, where the exercise is listed.
    pub highest: Option<i64>,
    /// Whether that is an estimate.
    pub estimate: bool,
    /// What that is a percent of.
    pub of: Option<Called<ReferenceId>>,
}

/// The ladder of a listed exercise done alone; none where it is not one.
pub(crate) fn ladder(
    pack: &Pack,
    graph: &Graph,
    glossary: &Glossary,
    exercise: usize,
    cause: Option<&CauseId>,
) -> Option<Vec<Rung>> {
    let listed = graph
        .exercises
        .get(exercise)
        .filter(|listed| !listed.is_complex())?;
    let body = &listed.pieces.first()?.body;
    let root = graph.exercises.get(body.root)?;
    let climb = Climb {
        pack,
        graph,
        glossary,
        cause,
        root: body.root,
        name: &root.name,
    };
    let mut left = body.departing.clone();
    if let Some(own) = root.pieces.first() {
        // What the root has by nature is never freed.
        for at in own.body.departing.iter() {
            left.remove(at);
        }
    }
    let mut rungs = vec![climb.rung(&left, None)];
    while let Some(next) = climb.next(&left) {
        left.remove(next);
        rungs.push(climb.rung(&left, Some(next)));
    }
    Some(rungs)
}

struct Climb<'a> {
    pack: &'a Pack,
    graph: &'a Graph,
    glossary: &'a Glossary,
    cause: Option<&'a CauseId>,
    root: usize,
    name: &'a str,
}

impl Climb<'_> {
    fn constraint(&self, at: usize) -> Option<&Constraint> {
        let id = self.graph.constraints.get(at)?;
        self.pack
            .axes
            .values()
            .find_map(|axis| axis.constraints.get(id))
    }

    fn called(&self, at: usize) -> Option<Called<ConstraintId>> {
        Some(Called::new(
            self.glossary,
            Named::Constraint,
            self.graph.constraints.get(at)?,
        ))
    }

    /// What a constraint does to the cause.
    fn bears(&self, at: usize) -> i64 {
        let of = |cause: &CauseId| Some(i64::from(self.constraint(at)?.effect.get(cause)?.value));
        self.cause.and_then(of).unwrap_or(0)
    }

    /// What is freed next: what helps least against the cause; then what leads to a listed
    /// exercise; then what is not strong; then what costs least in likeness; then by id.
    fn next(&self, left: &Bits) -> Option<usize> {
        left.iter().min_by_key(|at| {
            let mut without = left.clone();
            without.remove(*at);
            let held = self.constraint(*at);
            (
                self.bears(*at),
                self.listed(&without).is_none(),
                held.is_some_and(|held| held.strong),
                held.map_or(0, |held| held.departs),
                *at,
            )
        })
    }

    /// The exercise of the same root, done alone, with just these constraints beyond the root's.
    fn listed(&self, beyond: &Bits) -> Option<usize> {
        let own = self
            .graph
            .exercises
            .get(self.root)
            .and_then(|root| root.pieces.first())?;
        self.graph.exercises.iter().position(|exercise| {
            let Some(piece) = exercise.pieces.first().filter(|_| !exercise.is_complex()) else {
                return false;
            };
            let mut held = piece.body.departing.clone();
            for at in own.body.departing.iter() {
                held.remove(at);
            }
            piece.body.root == self.root && held == *beyond
        })
    }

    fn rung(&self, left: &Bits, freed: Option<usize>) -> Rung {
        let listed = self
            .listed(left)
            .and_then(|at| self.graph.exercises.get(at));
        let body = listed
            .and_then(|listed| listed.pieces.first())
            .map(|piece| &piece.body);
        Rung {
            exercise: listed.map(|listed| listed.id.clone()),
            name: listed.map_or_else(|| self.name.to_owned(), |listed| listed.name.clone()),
            constraints: left.iter().filter_map(|at| self.called(at)).collect(),
            freed: freed.and_then(|at| self.called(at)),
            bears: freed.map_or(0, |at| self.bears(at)),
            highest: body.map(|body| body.highest),
            estimate: body.is_some_and(|body| body.estimate),
            of: body
                .and_then(|body| body.reference.as_ref())
                .map(|of| Called::new(self.glossary, Named::Reference, of)),
        }
    }
}
