//! One walk over everything that an item says, so that no reference is forgotten.
//!
//! Every struct of the rule language is taken apart field by field; a field that
//! is added and not walked does not compile.

use indexmap::IndexMap;

use crate::base::{At, Decimal, Place};
use crate::rules::read::{Key, Kind, Node};
use crate::rules::vocab::{Condition, DayFilter, FieldTest, Names, Range, Selector};

use super::sections::Sort;

/// What a walk meets. Everything has an empty answer, so a check names only what it looks at.
pub(crate) trait Visit<'p> {
    /// A reference, or the key of what is declared inside an item.
    fn id(&mut self, _sort: Sort, _id: &'p str, _spot: &Spot<'_, 'p>) {}
    /// A list of ids.
    fn ids(&mut self, _ids: &mut dyn Iterator<Item = (&'p str, &'p Place)>, _spot: &Spot<'_, 'p>) {}
    /// A text.
    fn text(&mut self, _text: &'p str, _spot: &Spot<'_, 'p>) {}
    /// A range.
    fn range(&mut self, _range: Range, _spot: &Spot<'_, 'p>) {}
    /// Names.
    fn names(&mut self, _names: &'p Names, _spot: &Spot<'_, 'p>) {}
    /// A condition, before what is in it.
    fn condition(&mut self, _condition: &'p Condition, _spot: &Spot<'_, 'p>) {}
    /// A test of the case field that is the last key of the spot.
    fn test(&mut self, _test: &'p FieldTest, _spot: &Spot<'_, 'p>) {}
    /// A selector, before what is in it.
    fn selector(&mut self, _selector: &'p Selector, _spot: &Spot<'_, 'p>) {}
    /// A filter of days.
    fn days(&mut self, _days: &'p DayFilter, _spot: &Spot<'_, 'p>) {}
}

/// One step into an item.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Step<'p> {
    /// The item itself.
    Item,
    /// A field, by the name of its struct's field or its key.
    Field(&'static str),
    /// A key of a map, and which of its keys in the order written.
    Key(&'p str, usize),
    /// A place in a list.
    Nth(usize),
}

/// Where a walk is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Spot<'s, 'p> {
    up: Option<&'s Spot<'s, 'p>>,
    step: Step<'p>,
    place: &'p Place,
}

impl<'s, 'p> Spot<'s, 'p> {
    /// The item whose key stands at `place`.
    pub(crate) fn item(place: &'p Place) -> Self {
        Self {
            up: None,
            step: Step::Item,
            place,
        }
    }

    fn step(&'s self, step: Step<'p>) -> Spot<'s, 'p> {
        Spot {
            up: Some(self),
            step,
            place: self.place,
        }
    }

    /// The spot of a field.
    pub(crate) fn field(&'s self, field: &'static str) -> Spot<'s, 'p> {
        self.step(Step::Field(field))
    }

    /// The nearest place that is known without the item's text.
    pub(crate) fn near(&self) -> &'p Place {
        self.place
    }

    /// The last key of a map on the way here, if the last step is one.
    pub(crate) fn last_key(&self) -> Option<&'p str> {
        match self.step {
            Step::Key(key, _) => Some(key),
            _ => None,
        }
    }

    /// The last step.
    pub(crate) fn last(&self) -> Step<'p> {
        self.step
    }

    /// The spot one step up.
    pub(crate) fn up(&self) -> Option<&'s Spot<'s, 'p>> {
        self.up
    }

    /// What is written here, if the item's text is at hand and says anything here.
    pub(crate) fn node<'t>(&self, item: Option<&'t Node>) -> Option<&'t Node> {
        let outer = match self.up {
            None => return item,
            Some(up) => up.node(item)?,
        };
        match (&outer.kind, self.step) {
            (Kind::List(items), Step::Nth(at)) => items.get(at),
            (Kind::Map(entries), Step::Field(name)) => entries
                .iter()
                .find(|(key, _)| same_key(&key.text, name))
                .map(|(_, node)| node),
            (Kind::Map(entries), Step::Key(name, at)) => {
                entry(entries, name, at).map(|(_, node)| node)
            }
            _ => None,
        }
    }

    /// The place of the key of what is written here, or the nearest place that is known.
    pub(crate) fn key_place(&self, item: Option<&Node>) -> Place {
        let outer = self
            .up
            .and_then(|up| up.node(item))
            .and_then(Node::as_map)
            .unwrap_or_default();
        let key = match self.step {
            Step::Field(name) => outer
                .iter()
                .find(|(key, _)| same_key(&key.text, name))
                .map(|(key, _)| key),
            Step::Key(name, at) => entry(outer, name, at).map(|(key, _)| key),
            Step::Item | Step::Nth(_) => None,
        };
        key.map_or_else(|| self.place.clone(), |key| key.place.clone())
    }

    /// The place of what is written here, or the nearest that is known.
    pub(crate) fn place(&self, item: Option<&Node>) -> Place {
        self.node(item)
            .map_or_else(|| self.place.clone(), |node| node.place.clone())
    }
}

/// The entry of a map with a key, which is the one at `at` where the map was read whole.
fn entry<'t>(entries: &'t [(Key, Node)], name: &str, at: usize) -> Option<&'t (Key, Node)> {
    let there = entries.get(at).filter(|(key, _)| key.text == name);
    there.or_else(|| entries.iter().find(|(key, _)| key.text == name))
}

/// Whether a key of a file is a field's: hyphens stand for the field's underlines.
fn same_key(key: &str, field: &str) -> bool {
    key.len() == field.len()
        && key
            .bytes()
            .zip(field.bytes())
            .all(|(k, f)| k == f || (k == b'-' && f == b'_'))
}

/// Something that can be walked.
pub(crate) trait Walk {
    /// Shows a visitor everything that is in it.
    fn walk<'p>(&'p self, spot: &Spot<'_, 'p>, visit: &mut dyn Visit<'p>);

    /// Whether it is an id, and then its text.
    fn as_id(&self) -> Option<&str> {
        None
    }
}

impl<T: Walk> Walk for At<T> {
    fn walk<'p>(&'p self, spot: &Spot<'_, 'p>, visit: &mut dyn Visit<'p>) {
        self.value.walk(
            &Spot {
                place: &self.place,
                ..*spot
            },
            visit,
        );
    }

    fn as_id(&self) -> Option<&str> {
        self.value.as_id()
    }
}

impl<T: Walk> Walk for Option<T> {
    fn walk<'p>(&'p self, spot: &Spot<'_, 'p>, visit: &mut dyn Visit<'p>) {
        if let Some(value) = self {
            value.walk(spot, visit);
        }
    }
}

/// Lists: of places where ids stand, the ids are shown as a list first.
impl<T: Walk + Placed> Walk for Vec<T> {
    fn walk<'p>(&'p self, spot: &Spot<'_, 'p>, visit: &mut dyn Visit<'p>) {
        let mut ids = self
            .iter()
            .filter_map(|value| Some((value.as_id()?, value.place_of()?)));
        visit.ids(&mut ids, spot);
        for (at, value) in self.iter().enumerate() {
            value.walk(&spot.step(Step::Nth(at)), visit);
        }
    }
}

/// What may know where it stands.
pub(crate) trait Placed {
    /// Where it stands.
    fn place_of(&self) -> Option<&Place> {
        None
    }
}

impl<T> Placed for At<T> {
    fn place_of(&self) -> Option<&Place> {
        Some(&self.place)
    }
}

impl<K: Walk, V: Walk> Walk for IndexMap<At<K>, V> {
    fn walk<'p>(&'p self, spot: &Spot<'_, 'p>, visit: &mut dyn Visit<'p>) {
        for (at, (key, value)) in self.iter().enumerate() {
            let inner = Spot {
                place: &key.place,
                ..spot.step(Step::Key(key.as_id().unwrap_or(""), at))
            };
            key.walk(&inner, visit);
            value.walk(&inner, visit);
        }
    }
}

impl Walk for String {
    fn walk<'p>(&'p self, spot: &Spot<'_, 'p>, visit: &mut dyn Visit<'p>) {
        visit.text(self, spot);
    }
}

impl Walk for Range {
    fn walk<'p>(&'p self, spot: &Spot<'_, 'p>, visit: &mut dyn Visit<'p>) {
        visit.range(*self, spot);
    }
}

/// What holds no reference, no text and no range.
macro_rules! plain {
    ($($type:ty),* $(,)?) => {
        $(impl Walk for $type {
            fn walk<'p>(&'p self, _: &Spot<'_, 'p>, _: &mut dyn Visit<'p>) {}
        })*
    };
}
pub(super) use plain;

plain!(bool, u8, i8, u16, i64, Decimal);

/// Ids: those that name something everywhere, and those that only mean something inside their item.
macro_rules! ids {
    ($($id:ident $(=> $sort:expr)?;)*) => {
        $(impl Walk for crate::base::$id {
            fn walk<'p>(&'p self, _spot: &Spot<'_, 'p>, _visit: &mut dyn Visit<'p>) {
                $(_visit.id($sort, self.as_str(), _spot);)?
            }
            fn as_id(&self) -> Option<&str> {
                Some(self.as_str())
            }
        })*
    };
}

ids! {
    SkillId => Sort::Skill;
    StageId => Sort::Stage;
    AxisId => Sort::Axis;
    ConstraintId => Sort::Constraint;
    ExerciseId => Sort::Exercise;
    FaultId => Sort::Fault;
    CauseId => Sort::Cause;
    ObservationId => Sort::Observation;
    TrackMeasureId => Sort::TrackMeasure;
    TrackEventId => Sort::TrackEvent;
    TrackFilterId => Sort::TrackFilter;
    TrackRemarkId => Sort::TrackRemark;
    QualityId => Sort::Quality;
    StressId => Sort::Stress;
    RoleId => Sort::Role;
    PartId => Sort::Part;
    EffortId => Sort::Effort;
    MarkId => Sort::Mark;
    PhaseId => Sort::Phase;
    LayoutId => Sort::Layout;
    DoseId => Sort::Dose;
    MeasureId => Sort::Measure;
    BarId => Sort::Bar;
    ZoneTableId => Sort::ZoneTable;
    TableId => Sort::Table;
    FactorId => Sort::Factor;
    CaseFieldId => Sort::CaseField;
    AttemptFieldId => Sort::AttemptField;
    SignId => Sort::Sign;
    JudgementId => Sort::Judgement;
    SoundWeekId => Sort::SoundWeek;
    TrainingBlockId => Sort::TrainingBlock;
    WeekFigureId => Sort::WeekFigure;
    ReviewWindowId => Sort::ReviewWindow;
    ReviewDecisionId => Sort::ReviewDecision;
    SeenWhereId => Sort::SeenWhere;
    BestFromId => Sort::BestFrom;
    EstimateId => Sort::Estimate;
    GroupId => Sort::Group;
    SourceId => Sort::Source;
    ReferenceId => Sort::Reference;
    // The only rules that others name are those of doses.
    RuleId => Sort::Rule("dose");
    NamedRuleId => Sort::AnyRule;
    WordId => Sort::Word;
    AspectId;
    RuleTestId;
    CaseVariantId;
    ExpectationId;
    GradeId;
    ValueId;
    ZoneId;
}

/// Walks a struct field by field; `as` gives the key of a field that is called otherwise in files,
/// and the word before the braces what the visitor is shown first.
macro_rules! walk {
    ($($type:ident $(: $shown:ident)? { $($field:ident $(as $key:literal)?),* $(,)? })*) => {
        $(impl Walk for $type {
            fn walk<'p>(&'p self, spot: &Spot<'_, 'p>, visit: &mut dyn Visit<'p>) {
                $(visit.$shown(self, spot);)?
                let Self { $($field),* } = self;
                $($field.walk(&spot.field(walk!(@key $field $($key)?)), visit);)*
            }
        }
        impl Placed for $type {})*
    };
    (@key $field:ident) => { stringify!($field) };
    (@key $field:ident $key:literal) => { $key };
}
pub(super) use walk;
