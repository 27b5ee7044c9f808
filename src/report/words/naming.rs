//! Why a written name was not read, and what to do about it.

use crate::explain::{Called, Misread};

use super::phrase::listed;

/// What is wrong with a written name.
pub(crate) fn misread(text: &str, wrong: &Misread) -> String {
    match wrong {
        Misread::Empty => format!("`{text}` says nothing of an exercise"),
        Misread::TooLong => format!("`{}…` is too long to be read", shortened(text)),
        Misread::UnknownWord { word, .. } => {
            format!(
                "the rules have no word `{}` for exercises, in `{text}`",
                word.text
            )
        }
        Misread::LeftOver { word } => {
            format!("`{}` belongs to nothing in `{text}`", word.text)
        }
        Misread::NoExercise { could_be } if could_be.len() > 1 => {
            format!("`{text}` does not say which exercise: {}", either(could_be))
        }
        Misread::NoExercise { .. } => format!("`{text}` names constraints and no exercise"),
        Misread::Several { exercises } => {
            let names: Vec<&str> = exercises
                .iter()
                .map(|called| called.name.as_str())
                .collect();
            format!(
                "`{text}` names several exercises: {}",
                listed(&names, "and")
            )
        }
        Misread::Ambiguous { between } => {
            let names: Vec<&str> = between.iter().map(|may_be| may_be.name.as_str()).collect();
            format!("`{text}` may be {}", listed(&names, "or"))
        }
        Misread::Excluded { first, second } => format!(
            "`{text}`: “{}” and “{}” exclude each other",
            first.name, second.name
        ),
        Misread::Elsewhere {
            constraint,
            exercise,
        } => format!(
            "`{text}`: “{}” has no place in “{}”",
            constraint.name, exercise.name
        ),
        Misread::Count { word } => {
            format!("the count `{}` fits no movement of `{text}`", word.text)
        }
    }
}

/// What to do about it.
pub(crate) fn misread_help(wrong: &Misread) -> String {
    match wrong {
        Misread::Empty => String::from("write an exercise and what constrains it"),
        Misread::TooLong => String::from(
            "write at most 300 characters, 24 words a movement and 10 movements, with `+` between movements",
        ),
        Misread::UnknownWord {
            nearest: Some(near),
            ..
        } => format!("did you mean `{near}`?"),
        Misread::UnknownWord { nearest: None, .. } => String::from(
            "write it in other words, or add it under `words` or to the `names` of what it means",
        ),
        Misread::LeftOver { .. } => String::from("take it out, or say what it is about"),
        Misread::NoExercise { could_be } if could_be.is_empty() => {
            String::from("add the exercise that they constrain")
        }
        Misread::NoExercise { .. } => String::from("add the exercise that is constrained so"),
        Misread::Several { .. } => {
            String::from("write `+` between movements of a complex, or name one of them")
        }
        Misread::Ambiguous { .. } => String::from("write which of them"),
        Misread::Excluded { .. } => String::from("take one of the two out"),
        Misread::Elsewhere { .. } => String::from("take it out, or name another exercise"),
        Misread::Count { .. } => String::from(
            "write a count of 1 to 10 before or behind each movement of a complex, or all at its end, such as `2+1`; sets are no part of a name",
        ),
    }
}

fn shortened(text: &str) -> String {
    const MOST: usize = 40;
    text.chars().take(MOST).collect()
}

fn either<I>(all: &[Called<I>]) -> String {
    let names: Vec<&str> = all.iter().map(|called| called.name.as_str()).collect();
    listed(&names, "or")
}
