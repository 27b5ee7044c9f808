//! An exercise as computed: what its constraints make of it.

use crate::base::{At, ExerciseId, Place, ReferenceId, RoleId};

use super::Bits;

/// One movement: an exercise done alone, or one component of a complex.
#[derive(Debug, Clone)]
pub(crate) struct Body {
    /// Its place among all pieces of all exercises.
    pub(crate) number: usize,
    /// The named exercise that it is, or that a component varies.
    pub(crate) exercise: usize,
    /// Its root.
    pub(crate) root: usize,
    /// The exercise itself and its ancestors, itself first.
    pub(crate) line: Vec<usize>,
    /// Skills of its root.
    pub(crate) skills: Bits,
    /// All its constraints, unset values included.
    pub(crate) constraints: Bits,
    /// Those that cost likeness.
    pub(crate) departing: Bits,
    /// Those that are strong.
    pub(crate) strong: Bits,
    /// Stages that are there.
    pub(crate) stages: Bits,
    /// Sum of what the constraints cost in likeness.
    pub(crate) departure: i64,
    /// Quality points, by quality.
    pub(crate) trains: Vec<i64>,
    /// Stress points, by region.
    pub(crate) stress: Vec<i64>,
    /// The most that can be done, in percent of the reference.
    pub(crate) highest: i64,
    /// Whether that is an estimate.
    pub(crate) estimate: bool,
    /// What loads are a percent of.
    pub(crate) reference: Option<ReferenceId>,
    /// Effect in half points by cause, before stages are looked at.
    pub(crate) effects: Vec<i64>,
}

/// A component with its repetitions in one round.
#[derive(Debug, Clone)]
pub(crate) struct Piece {
    /// What is done.
    pub(crate) body: Body,
    /// How often in one round; 1 for an exercise done alone.
    pub(crate) reps: i64,
}

/// What sort of exercise it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A root; whether of competition form.
    Root {
        /// Whether a federation judges it.
        competition: bool,
    },
    /// A variation of another exercise.
    Variation,
    /// Several components.
    Complex,
}

/// A listed exercise.
#[derive(Debug, Clone)]
pub(crate) struct Exercise {
    pub(crate) id: ExerciseId,
    /// Where it is listed.
    pub(crate) place: Place,
    /// Its canonical name.
    pub(crate) name: String,
    pub(crate) kind: Kind,
    /// One piece, or the components in order.
    pub(crate) pieces: Vec<Piece>,
    /// Roles that it may take, sorted.
    pub(crate) roles: Vec<RoleId>,
    /// Quality points of one placing.
    pub(crate) trains: Vec<i64>,
    /// Stress points of one placing.
    pub(crate) stress: Vec<i64>,
    /// Mean departure over the repetitions, rounded down.
    pub(crate) departure: i64,
    /// Skills of any piece.
    pub(crate) skills: Bits,
    /// The parent of a variation, itself for a root, the first component's exercise of a complex.
    pub(crate) stands_under: usize,
}

impl Exercise {
    /// Whether it is a complex.
    pub(crate) fn is_complex(&self) -> bool {
        self.kind == Kind::Complex
    }

    /// Repetitions of one round.
    pub(crate) fn round(&self) -> i64 {
        self.pieces.iter().map(|piece| piece.reps).sum()
    }
}

/// Roles by id, each once.
pub(super) fn sorted_roles(roles: &[At<RoleId>]) -> Vec<RoleId> {
    let mut roles: Vec<_> = roles.iter().map(|role| role.value.clone()).collect();
    roles.sort();
    roles.dedup();
    roles
}
