//! Where nothing stands in for a ruled-out competition lift, nobody can be asked for it.

use crate::infer::Setting;
use crate::rules::vocab::Selector;

/// Whether a lower bound on `what` asks for nothing: it names full forms, and none of them is there in this case.
pub(super) fn asks_nothing(setting: &Setting<'_>, what: &Selector) -> bool {
    let gone = |id: &str| {
        let root = setting.graph.ids.find(id);
        root.is_some_and(|root| setting.full_forms().get(&root) == Some(&None))
    };
    !what.full.is_empty() && what.full.iter().all(|id| gone(id.as_str()))
}
