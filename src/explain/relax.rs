//! A case with something that it says taken back.

use crate::base::{BarId, CaseFieldId, PhaseId, SkillId, Weekday};
use crate::rules::case_check::{Case, GymPiece, Value};
use crate::rules::pack::Pack;

use super::answer::SaidList;

/// Something that a case says and that can be taken back.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Saying {
    Field(CaseFieldId),
    FieldOfSkill(SkillId, CaseFieldId),
    FieldOfDay(Weekday, CaseFieldId),
    /// Which days are trained, and so how many.
    Days,
    Layout,
    Pieces,
}

/// Everything that a case says beside its lists.
pub(crate) fn sayings(pack: &Pack, case: &Case) -> Vec<Saying> {
    // Named days say how many they are; taken back alone, their number would say otherwise.
    let counts = pack.counts_training_days().map(|(id, _)| &id.value);
    let counted = |field: &CaseFieldId| !case.days.is_empty() && counts == Some(field);
    let fields = case.stated.iter().filter(|field| !counted(field));
    let fields = fields.cloned().map(Saying::Field);
    let of_skill = case
        .by_skill
        .keys()
        .map(|(skill, field)| Saying::FieldOfSkill(skill.clone(), field.clone()));
    let of_day = case.days.iter().flat_map(|(day, said)| {
        let said = said.keys();
        said.map(|field| Saying::FieldOfDay(*day, field.clone()))
    });
    let days = (!case.days.is_empty()).then_some(Saying::Days);
    let layout = case.layout.is_some().then_some(Saying::Layout);
    let pieces = (case.pieces != all_pieces(pack, case)).then_some(Saying::Pieces);
    fields
        .chain(of_skill)
        .chain(of_day)
        .chain(days)
        .chain(layout)
        .chain(pieces)
        .collect()
}

/// The lists in which a case says anything.
pub(crate) fn said_lists(case: &Case) -> Vec<SaidList> {
    let lists = [
        (SaidList::Faults, case.faults.is_empty()),
        (SaidList::Observed, case.observed.is_empty()),
        (SaidList::SureOf, case.sure_of.is_empty()),
        (SaidList::Bests, case.bests.is_empty()),
        (SaidList::New, case.new.is_empty()),
        (SaidList::Disliked, case.disliked.is_empty()),
        (SaidList::Tried, case.tried.is_empty()),
        (SaidList::DidLastWeek, case.did_last_week.is_empty()),
        (SaidList::WeekBefore, case.week_before.is_empty()),
    ];
    let lists = lists.into_iter().filter(|(_, empty)| !empty);
    lists.map(|(list, _)| list).collect()
}

/// The phases that a case does not say.
pub(crate) fn other_phases(pack: &Pack, case: &Case) -> Vec<PhaseId> {
    let phases = pack.phases.keys().map(|id| &id.value);
    phases.filter(|id| **id != case.phase).cloned().collect()
}

/// The other bars whose pieces and bests are of the same measure.
pub(crate) fn other_bars(pack: &Pack, case: &Case) -> Vec<BarId> {
    let Some(measure) = pack.bars.get(&case.bar).map(|bar| &bar.measure.value) else {
        return Vec::new();
    };
    let bars = pack
        .bars
        .iter()
        .filter(|(id, bar)| id.value != case.bar && bar.measure.value == *measure);
    bars.map(|(id, _)| id.value.clone()).collect()
}

/// What a field holds where a case says nothing; none where it stays unknown.
pub(crate) fn default_of(pack: &Pack, field: &CaseFieldId) -> Option<Value> {
    let word = pack
        .one_of
        .get(field)
        .and_then(|held| held.if_missing.as_ref());
    let number = pack
        .whole
        .get(field)
        .and_then(|held| held.if_missing.as_ref());
    let words = pack
        .some_of
        .get(field)
        .and_then(|held| held.if_missing.as_ref());
    word.map(|word| Value::Word(word.value.clone()))
        .or_else(|| number.map(|number| Value::Number(number.value)))
        .or_else(|| {
            words.map(|words| Value::Words(words.iter().map(|word| word.value.clone()).collect()))
        })
}

fn all_pieces(pack: &Pack, case: &Case) -> Vec<GymPiece> {
    let measure = pack
        .bars
        .get(&case.bar)
        .and_then(|bar| pack.measures.get(&bar.measure.value));
    let mut pieces: Vec<GymPiece> = measure
        .into_iter()
        .flat_map(|measure| &measure.pieces)
        .map(|piece| GymPiece {
            weight: piece.weight,
            full_diameter: piece.full_diameter,
            pairs: None,
        })
        .collect();
    pieces.sort_by_key(|piece| std::cmp::Reverse(piece.weight));
    pieces
}

/// Takes back what a case says.
pub(crate) fn take_back(pack: &Pack, case: &mut Case, saying: &Saying) {
    match saying {
        Saying::Field(field) => field_back(pack, case, field),
        Saying::FieldOfSkill(skill, field) => {
            case.by_skill.remove(&(skill.clone(), field.clone()));
        }
        Saying::FieldOfDay(day, field) => {
            if let Some(said) = case.days.get_mut(day) {
                said.remove(field);
            }
        }
        Saying::Days => {
            case.days.clear();
            if let Some((field, _)) = pack.counts_training_days() {
                field_back(pack, case, &field.value);
            }
        }
        Saying::Layout => case.layout = None,
        Saying::Pieces => case.pieces = all_pieces(pack, case),
    }
}

/// Gives a field the value that it has where nothing is said.
fn field_back(pack: &Pack, case: &mut Case, field: &CaseFieldId) {
    case.stated.remove(field);
    match default_of(pack, field) {
        Some(value) => case.fields.insert(field.clone(), value),
        None => case.fields.remove(field),
    };
}

/// Empties a list of a case.
pub(crate) fn empty_list(case: &mut Case, list: SaidList) {
    match list {
        SaidList::Faults => case.faults.clear(),
        SaidList::Observed => case.observed.clear(),
        SaidList::SureOf => case.sure_of.clear(),
        SaidList::Bests => {
            case.bests.clear();
            case.best_days.clear();
        }
        SaidList::New => case.new.clear(),
        SaidList::Disliked => case.disliked.clear(),
        SaidList::Tried => case.tried.clear(),
        SaidList::DidLastWeek => case.did_last_week.clear(),
        SaidList::WeekBefore => case.week_before.clear(),
    }
}
