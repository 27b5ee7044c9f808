//! JSON Schemas (draft 2020-12) of the documents, of case files and of rule files.

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use crate::base::At;
use crate::base::RuleId;
use crate::base::id::{ID_PATTERN, LONGEST_ID};
use crate::rules::case::CaseText;
use crate::rules::check::sections::{rule_sections, sections};
use crate::rules::log::EntryText;
use crate::rules::pack::{Items, Pack};
use crate::rules::watched::WatchedText;

use super::json::{NoWeekDocument, NotFoundDocument, WeekDocument};
use super::lists::{
    AuditDocument, BlockDocument, ExercisesDocument, FaultsDocument, FindingsDocument,
    LadderDocument, NameDocument, ProblemsDocument, ReviewDocument, RuleTestsDocument,
    TrackedDocument,
};

/// Ids with what stands under each.
fn by_id<T: JsonSchema>(generator: &mut SchemaGenerator) -> Schema {
    let item = generator.subschema_for::<T>();
    json_schema!({
        "type": "object",
        "propertyNames": {"pattern": ID_PATTERN, "maxLength": LONGEST_ID},
        "additionalProperties": item,
        "minProperties": 1,
    })
}

fn of_items<I, T: JsonSchema>(_: &Items<I, T>, generator: &mut SchemaGenerator) -> Schema {
    by_id::<T>(generator)
}

fn of_rules<T: JsonSchema>(_: &[(At<RuleId>, T)], generator: &mut SchemaGenerator) -> Schema {
    by_id::<T>(generator)
}

/// The sections of a kind of rule file, with an empty word where it has none.
fn sections_of(kind: &str, generator: &mut SchemaGenerator) -> Vec<(&'static str, Schema)> {
    let pack = Pack::default();
    let mut all: Vec<(&'static str, Schema)> = Vec::new();
    macro_rules! items {
        ($($kind:literal $variant:literal $sort:ident $field:ident;)*) => {
            $(if kind == $kind {
                all.push(($variant, of_items(&pack.$field, generator)));
            })*
        };
    }
    macro_rules! rules {
        ($($kind:literal $field:ident;)*) => {
            if kind == "rules" {
                $(all.push(($kind, of_rules(&pack.rules.$field, generator)));)*
            }
        };
    }
    sections!(items);
    rule_sections!(rules);
    all
}

fn kinds() -> Vec<&'static str> {
    macro_rules! items {
        ($($kind:literal $variant:literal $sort:ident $field:ident;)*) => {
            vec![$($kind,)* "rules"]
        };
    }
    let mut all = sections!(items);
    all.dedup();
    all
}

/// A file: its format and one key with what stands under it.
fn file(key: &str, under: &Schema) -> Schema {
    let mut schema = json_schema!({
        "type": "object",
        "properties": {"format": {"const": 1}},
        "required": ["format", key],
        "additionalProperties": false,
    });
    if let Some(properties) = schema
        .get_mut("properties")
        .and_then(|held| held.as_object_mut())
    {
        properties.insert(key.to_owned(), under.clone().to_value());
    }
    schema
}

fn rule_file(kind: &str, generator: &mut SchemaGenerator) -> Option<Schema> {
    let sections = sections_of(kind, generator);
    let mut under = json_schema!({
        "type": "object",
        "properties": {},
        "additionalProperties": false,
        "minProperties": 1,
    });
    for (section, schema) in &sections {
        if section.is_empty() {
            return Some(file(kind, schema));
        }
        if let Some(properties) = under
            .get_mut("properties")
            .and_then(|held| held.as_object_mut())
        {
            properties.insert((*section).to_owned(), schema.clone().to_value());
        }
    }
    (!sections.is_empty()).then(|| file(kind, &under))
}

/// The names under which [`schema`] has something: documents, `case`, and each kind of rule file.
#[must_use]
pub fn schema_names() -> Vec<&'static str> {
    let mut all = vec![
        "week",
        "no-week",
        "not-found",
        "fault-list",
        "exercise-list",
        "ladder",
        "name",
        "problems",
        "rule-tests",
        "findings",
        "track",
        "audit",
        "block",
        "review",
        "case",
        "watched",
        "log",
    ];
    all.extend(kinds());
    all
}

/// The JSON Schema with this name, as JSON text; none for a name that is not one of [`schema_names`].
#[must_use]
pub fn schema(name: &str) -> Option<String> {
    let mut generator = SchemaSettings::draft2020_12().into_generator();
    let mut schema = match name {
        "week" => WeekDocument::json_schema(&mut generator),
        "no-week" => NoWeekDocument::json_schema(&mut generator),
        "not-found" => NotFoundDocument::json_schema(&mut generator),
        "fault-list" => FaultsDocument::json_schema(&mut generator),
        "exercise-list" => ExercisesDocument::json_schema(&mut generator),
        "ladder" => LadderDocument::json_schema(&mut generator),
        "name" => NameDocument::json_schema(&mut generator),
        "rule-tests" => RuleTestsDocument::json_schema(&mut generator),
        "problems" => ProblemsDocument::json_schema(&mut generator),
        "audit" => AuditDocument::json_schema(&mut generator),
        "block" => BlockDocument::json_schema(&mut generator),
        "findings" => FindingsDocument::json_schema(&mut generator),
        "review" => ReviewDocument::json_schema(&mut generator),
        "log" => {
            let entries = generator.subschema_for::<Vec<EntryText>>();
            file("log", &entries)
        }
        "track" => TrackedDocument::json_schema(&mut generator),
        "watched" => {
            let watched = generator.subschema_for::<WatchedText>();
            file("watched", &watched)
        }
        "case" => {
            let case = generator.subschema_for::<CaseText>();
            file("case", &case)
        }
        kind => rule_file(kind, &mut generator)?,
    };
    let dialect = generator
        .settings()
        .meta_schema
        .as_deref()
        .unwrap_or_default()
        .to_owned();
    let definitions = generator.take_definitions(true);
    let held = schema.ensure_object();
    held.insert("$schema".to_owned(), dialect.into());
    held.insert("title".to_owned(), name.into());
    if !definitions.is_empty() {
        held.insert("$defs".to_owned(), definitions.into());
    }
    Some(format!("{:#}", schema.as_value()))
}
