//! Figures of a week.

use crate::explain::Says;
use crate::explain::check::Handing;
use crate::explain::entries::Called;
use crate::explain::glossary::Named;
use crate::plan::Item;
use crate::rules::pack::Pack;
use crate::rules::vocab::{Counted, Selector, WeekFigure};

use super::{FigureEntry, FigureValue};

/// The figures that the rules have, by id.
pub(crate) fn of_the_rules(pack: &Pack, glossary: &crate::explain::Glossary) -> Vec<FigureEntry> {
    let all = pack.week_figures.iter();
    let entry =
        |(id, held): (&crate::base::At<crate::base::WeekFigureId>, &WeekFigure)| FigureEntry {
            figure: Called::new(glossary, Named::WeekFigure, &id.value),
            means: held.means.clone(),
            percent: held.share_of.is_some() || held.counted == Counted::MeanPercent,
            drawn: held.drawn,
        };
    all.map(entry).collect()
}

/// Those of a week, in the same order.
pub(crate) fn figures(handing: &Handing<'_>, days: &[Vec<Item>]) -> Vec<Option<FigureValue>> {
    let setting = handing.setting;
    let of = |what: &Selector, counted: Counted| -> Option<i64> {
        let items = days.iter().flatten();
        let items = items.filter(|item| setting.matches(what, &item.placed(handing.week)));
        match counted {
            Counted::Sets => Some(items.map(|item| item.dosed.sets).sum()),
            Counted::Reps => Some(items.map(Item::lifts).sum()),
            Counted::MeanPercent => {
                let (mut weighed, mut reps) = (0, 0);
                for item in items {
                    if let Some((low, high)) = item.dosed.percent {
                        weighed += (low + high) * item.lifts();
                        reps += 2 * item.lifts();
                    }
                }
                (reps > 0).then(|| weighed / reps)
            }
        }
    };
    let figures = setting.pack.week_figures.iter();
    let figures = figures.map(|(id, held)| {
        let value = of(&held.what, held.counted)?;
        let value = match &held.share_of {
            Some(whole) => (100 * value).checked_div(of(whole, held.counted)?)?,
            None => value,
        };
        let range = held
            .ranges
            .get_key_value(&setting.case.phase)
            .map(|(phase, range)| {
                let says = Says {
                    path: format!("week-figures.{id}.ranges.{phase}"),
                    place: phase.place.clone(),
                    because: range.because.clone(),
                };
                (range.from, range.to, says)
            });
        Some(FigureValue { value, range })
    });
    figures.collect()
}
