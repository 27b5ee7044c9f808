//! `coach week --as mps` and `--as lp`: the whole week as a model for other solvers.

use std::process::ExitCode;

use drillwright::explain::{Level, Missed};
use drillwright::{Aim, Answer, Case, KnowledgeBase, OpenModel};

use crate::args::{Common, Form, Seek};
use crate::out::{self, Failed};

pub fn run(
    common: &Common,
    base: &KnowledgeBase,
    case: &Case,
    seek: Option<Seek>,
) -> Result<ExitCode, Failed> {
    // What gives way last is sought before anything is held.
    if seek == Some(Seek::Last) {
        return written(
            common,
            base,
            case,
            Aim::Fewest(Level::Last, Missed::default()),
        );
    }
    let work = common.work();
    let missed = match base.solve_within(case, work)? {
        Answer::Week(week) => week.missed,
        // That no week meets it either says why there is none.
        Answer::NoWeek(_) if seek.is_none() => {
            return written(
                common,
                base,
                case,
                Aim::Fewest(Level::Last, Missed::default()),
            );
        }
        _ => {
            return Err(Failed::Said(String::from(
                "the search found no week whose units missed could be held; `--seek last` needs none",
            )));
        }
    };
    let aim = match seek {
        Some(Seek::Last | Seek::Middle) => Aim::Fewest(Level::Middle, missed),
        Some(Seek::First) => Aim::Fewest(Level::First, missed),
        Some(Seek::Worth) => Aim::Worth(missed),
        None if missed.is_none() => Aim::Worth(missed),
        None => {
            return Err(Failed::Said(String::from(
                "something gives way in this case, so that there are several models: say which with `--seek last`, `middle`, `first` or `worth`",
            )));
        }
    };
    written(common, base, case, aim)
}

fn written(
    common: &Common,
    base: &KnowledgeBase,
    case: &Case,
    aim: Aim,
) -> Result<ExitCode, Failed> {
    let model: OpenModel = base.open_model(case, aim)?;
    out::text(&if common.form == Form::Lp {
        model.lp()
    } else {
        model.mps()
    });
    Ok(ExitCode::SUCCESS)
}
