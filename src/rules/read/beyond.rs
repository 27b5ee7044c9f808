//! Numbers that their types can't hold. An item is read all the same, with a number in their place
//! that is out of any narrower range as well, since what checks the item knows the range.

use super::de::node_address;
use super::tree::{Kind, Node};
use crate::base::{Code, Diagnostic, Place};

/// One such number.
#[derive(Debug)]
pub struct Beyond {
    /// Its place, then those of the lists and maps around it, from the inside out.
    pub(super) places: Vec<Place>,
    /// The text as written.
    pub(super) text: String,
    /// What is read in its place, as it shows in a problem.
    pub(super) stand_in: String,
    /// What to say where nothing knows a narrower range.
    pub(super) problem: Diagnostic,
}

impl Beyond {
    /// What to say where the item could not be read, so that nothing knew the range.
    pub fn in_broken(self) -> Diagnostic {
        Diagnostic {
            what: format!("`{}` is far out of range here", self.text),
            help: String::from(
                "write another number; its range is told once the rest of this can be read",
            ),
            ..self.problem
        }
    }

    fn is_in(&self, problem: &Diagnostic) -> bool {
        let word = |c: char| c.is_ascii_digit() || c == '-' || c == '.';
        self.places.contains(&problem.place)
            && problem
                .what
                .split(|c| !word(c))
                .any(|found| found == self.stand_in)
    }
}

/// Puts the numbers as written into the problems that were found with those in their place. What no
/// problem was about is told with the range of its type; what else speaks of a number that nobody
/// wrote is taken back.
pub fn settle(numbers: Vec<Beyond>, out: &mut Vec<Diagnostic>) {
    let mut untold = Vec::new();
    for number in &numbers {
        let about =
            |problem: &&mut Diagnostic| problem.code == Code::OutOfRange && number.is_in(problem);
        match out.iter_mut().find(about) {
            Some(problem) => {
                problem.what = problem.what.replacen(&number.stand_in, &number.text, 1);
                problem.place = number.problem.place.clone();
            }
            None => untold.push(number.problem.clone()),
        }
    }
    out.retain(|problem| !numbers.iter().any(|number| number.is_in(problem)));
    out.append(&mut untold);
}

/// The place of the node at an address, then of those around it, if it is in this one.
pub(super) fn places_of(node: &Node, address: usize) -> Option<Vec<Place>> {
    if node_address(node) == address {
        return Some(vec![node.place.clone()]);
    }
    let found = match &node.kind {
        Kind::Scalar(_) | Kind::Refused => None,
        Kind::List(items) => items.iter().find_map(|item| places_of(item, address)),
        Kind::Map(entries) => entries
            .iter()
            .find_map(|(_, value)| places_of(value, address)),
    };
    found.map(|mut places| {
        places.push(node.place.clone());
        places
    })
}
