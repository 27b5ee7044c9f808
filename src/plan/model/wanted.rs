//! What the case wants to be there, whatever the rules say: a hard row over the week for each exercise.

use crate::rules::vocab::Yields;

use super::bounds::bound;
use super::build::Builder;

pub(super) fn add(builder: &mut Builder<'_, '_>) {
    let setting = builder.setting;
    for (exercise, times) in &setting.case.wanted {
        let at = setting.graph.ids.find(exercise.as_str());
        let amounts = (0..builder.days()).map(|day| {
            let items = builder.items(day).iter();
            items
                .map(|item| i64::from(Some(item.exercise) == at))
                .collect()
        });
        let amounts = amounts.collect();
        if let Some(row) = builder.row(exercise.as_str(), false, amounts) {
            row.bounds.push(bound(Yields::Never, Some(*times), None, 1));
        }
    }
}
