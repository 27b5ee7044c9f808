//! The form of the built-in rules that was checked beforehand.
//!
//! After a change of the rules `WRITE=1 cargo test --lib beforehand` writes it anew.

use std::sync::Arc;

use crate::KnowledgeBase;
use crate::builtin::{FILES, FORM};
use crate::rules::formed::pack_of;
use crate::rules::load::load;
use crate::rules::read::{Form, Limits, Node, form_of, parse_known};

fn texts() -> Vec<(Arc<str>, Arc<str>)> {
    let mut files: Vec<_> = FILES
        .iter()
        .map(|(name, text)| (Arc::from(*name), Arc::from(*text)))
        .collect();
    files.sort();
    files
}

fn trees() -> Vec<Node> {
    let parsed = texts().into_iter().map(|(name, text)| {
        parse_known(&text, &name, &Limits::default(), &mut Vec::new()).unwrap()
    });
    parsed.collect()
}

#[test]
fn is_that_of_the_texts() {
    let rules = KnowledgeBase::builtin().unwrap();
    let form = form_of(rules.fingerprint(), &trees());
    if std::env::var_os("WRITE").is_some() {
        std::fs::write("src/builtin.form", &form).unwrap();
        return;
    }
    assert!(
        form == FORM,
        "the rules were changed: write their form anew with `WRITE=1 cargo test --lib beforehand`"
    );
}

/// Every item, every number and every place.
#[test]
fn says_what_the_texts_say() {
    let form = form_of("of these texts", &trees());
    let form = Form::of(&form).unwrap();
    assert_eq!(form.fingerprint, "of these texts");
    let pack = load(parse_known, &texts(), Vec::new(), &Limits::default()).unwrap();
    assert_eq!(
        format!("{:?}", pack_of(&form).unwrap()),
        format!("{pack:?}")
    );
}

#[test]
fn is_none_where_it_is_cut_off() {
    let whole = form_of("of these texts", &trees());
    let is_read = |bytes: &[u8]| Form::of(bytes).is_some_and(|form| pack_of(&form).is_some());
    assert!(is_read(&whole));
    for lacking in (1..whole.len()).step_by(4_999).chain(1..20) {
        assert!(!is_read(&whole[..whole.len() - lacking]), "{lacking}");
    }
    let mut longer = whole;
    longer.push(0);
    assert!(!is_read(&longer));
}
