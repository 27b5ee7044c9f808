//! The vocabulary of rule files: plain structs, one for each kind of thing.
//!
//! Every struct reads from a map; none is a union, so a place survives for
//! each value and an editor's completion knows the branch.

mod common;
mod condition;
mod course;
mod diagnosis;
mod load;
mod method;
mod movement;
mod reviewing;
mod seeing;
mod select;
mod setting;
mod sources;
mod tracks;
mod words;

pub(crate) use common::{Names, Range, Sourced, Yields};
pub(crate) use condition::{Condition, FieldTest, IfUnknown};
pub(crate) use course::{Counted, FigureRange, Stretch, TrainingBlock, Wave, WaveWeek, WeekFigure};
pub(crate) use diagnosis::{
    CapacityCause, Fault, Grade, Measured, MovementCause, Observation, Quality, Share, TrackMeasure,
};
pub(crate) use load::{
    Bar, Dose, Instead, MOST_LOAD, Measure, Piece, Reference, Rounding, Span, Zone, ZoneTable,
};
pub(crate) use method::{
    Effort, FactorByChoice, FactorByNumber, FactorByPhase, FactorStep, Gate, Help, Layout,
    LayoutDay, Mark, Part, Phase, Role, Slot, Step, Stress, Table,
};
pub(crate) use movement::{
    Axis, Complex, Component, Constraint, Form, Holds, MOST_DEPARTURE, Root, Skill, Stated,
    Variation,
};
pub(crate) use reviewing::{
    BestFrom, Decides, Estimate, Formula, ReviewDecision, ReviewWindow, SeenWhere, ShareTest,
    TrendTest,
};
pub(crate) use seeing::{
    AttemptChoice, AttemptNumber, AttemptTest, AttemptValue, Judgement, Sign, SoundWeek, is_of,
};
pub(crate) use select::{Came, DayFilter, Group, Selector};
pub(crate) use setting::{DateField, OneOfField, SomeOfField, WholeField};
pub(crate) use sources::{CommonSource, ExpertSource, PublishedSource, ReadAs};
pub(crate) use tracks::{
    Channel, Find, Take, TrackEvent, TrackFilter, TrackRemark, TrackTake, TrackUnit,
};
pub(crate) use words::Word;
