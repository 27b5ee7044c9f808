//! The whole week as one linear model in whole numbers, for solvers that know nothing of this crate.
//!
//! It says what [`crate::plan::search`] searches, and shares no code with it beyond the compiled
//! [`Model`]: an item is a column of 0 or 1, a rule is a line that is named after it, a unit missed
//! is a column, and worth is what remains to be made as large as can be.
//!
//! | columns | meaning |
//! |---|---|
//! | `x_DAY_PART_EXERCISE_ROLE` | the item stands in the week |
//! | `y_DAY_PART_EXERCISE_ROLE_PLACE` | it is the item at this place of its part; only where a rule can tell orders apart |
//! | `any_DAY_NUMBER` | the session has one of some items |
//! | `u_RULE_…` | units missed by a rule |
//! | `t_RULE` | a total of the week |
//! | `s_RULE_NUMBER` | how much of one slope of a table of worth a total reaches |
//! | `f_RULE_…` | an item is followed within its session |
//! | `constant` | 1; carries what does not depend on the week |

mod build;
mod cells;
mod days;
mod follow;
mod lp;
mod mps;
mod open;
mod order;
mod session;
mod week;

use crate::graph::Graph;
use crate::plan::item::{Item, Pool};
use crate::plan::model::Model;

use build::Flat;
pub use open::OpenModel;

/// How a level that gives way takes part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hold {
    /// At most so many units are missed.
    AtMost(i64),
    /// As few units as can be.
    Fewest,
    /// Whatever comes.
    Free,
}

/// Writes a compiled case out flat: the levels `last`, `middle`, `first` in turn as they are held.
///
/// # Errors
///
/// The rule whose totals are too large for other solvers to take exactly.
pub(crate) fn flat(
    model: &Model,
    pool: &Pool,
    graph: &Graph,
    holds: [Hold; 3],
    about: Vec<String>,
) -> Result<OpenModel, String> {
    let names: Vec<Vec<String>> = pool.days.iter().map(|items| names(items, graph)).collect();
    let mut flat = Flat::new(model, &names, holds);
    for day in 0..model.days.len() {
        session::add(&mut flat, day);
        let cells = cells::of(&mut flat, day);
        order::add(&mut flat, day, &cells);
        follow::add(&mut flat, day, &cells);
    }
    days::add(&mut flat);
    week::add(&mut flat)?;
    Ok(flat.done(about))
}

/// Part, exercise and role, which tell the candidates of a day apart.
fn names(items: &[Item], graph: &Graph) -> Vec<String> {
    items
        .iter()
        .map(|item| {
            let exercise = graph.ids.get(item.exercise).map_or("", |id| id.as_str());
            format!("{}_{exercise}_{}", item.part, item.role)
        })
        .collect()
}
