//! Writes the form of texts that were read: see `form.rs` for what it is.

use std::collections::HashMap;

use super::form::{LIST, MAP, TEXT};
use super::tree::{Kind, Node};
use crate::base::Place;

/// The form of these trees, which must be sound, with the fingerprint of their texts.
pub(crate) fn form_of(fingerprint: &str, trees: &[Node]) -> Vec<u8> {
    let mut writer = Writer::default();
    for tree in trees {
        writer.line = 0;
        let file = writer.word(&tree.place.file);
        writer.number(file);
        writer.node(tree);
    }
    let mut out = Vec::new();
    write_text(&mut out, fingerprint);
    write_number(&mut out, writer.words.len() as u64);
    for word in &writer.words {
        write_text(&mut out, word);
    }
    write_number(&mut out, trees.len() as u64);
    out.append(&mut writer.nodes);
    out
}

#[derive(Default)]
struct Writer {
    words: Vec<String>,
    places: HashMap<String, u64>,
    nodes: Vec<u8>,
    line: u32,
}

impl Writer {
    fn word(&mut self, word: &str) -> u64 {
        if let Some(place) = self.places.get(word) {
            return *place;
        }
        let place = self.words.len() as u64;
        self.words.push(word.to_owned());
        self.places.insert(word.to_owned(), place);
        place
    }

    fn number(&mut self, number: u64) {
        write_number(&mut self.nodes, number);
    }

    fn place(&mut self, place: &Place) {
        self.number(u64::from(place.line - self.line));
        self.number(u64::from(place.column));
        self.line = place.line;
    }

    fn node(&mut self, node: &Node) {
        match &node.kind {
            Kind::Scalar(scalar) => {
                self.number(TEXT);
                self.place(&node.place);
                let word = self.word(&scalar.text);
                self.number(word);
            }
            Kind::List(items) => {
                self.number(LIST);
                self.place(&node.place);
                self.number(items.len() as u64);
                items.iter().for_each(|item| self.node(item));
            }
            Kind::Map(entries) => {
                self.number(MAP);
                self.place(&node.place);
                self.number(entries.len() as u64);
                for (key, value) in entries {
                    self.place(&key.place);
                    let word = self.word(&key.text);
                    self.number(word);
                    self.node(value);
                }
            }
            Kind::Refused => unreachable!("the trees are sound"),
        }
    }
}

fn write_number(out: &mut Vec<u8>, mut number: u64) {
    while number > 0x7f {
        out.push((number & 0x7f) as u8 | 0x80);
        number >>= 7;
    }
    out.push(number as u8);
}

fn write_text(out: &mut Vec<u8>, text: &str) {
    write_number(out, text.len() as u64);
    out.extend_from_slice(text.as_bytes());
}
