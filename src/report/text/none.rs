//! That there is no week, or that none was found.

use crate::explain::{Clash, Named, NoWeek, NotFound};
use crate::report::page::{Page, Tone};
use crate::report::words::{Words, not_found};

use super::Layout;

impl NoWeek {
    /// What clashes, as text in lines of at most 80 columns.
    #[must_use]
    pub fn text(&self, layout: Layout) -> String {
        let words = Words::new(&self.glossary);
        let mut page = Page::new(layout.colour);
        page.say(
            0,
            "No week satisfies the hard rules for this case.",
            Tone::Strong,
        );
        page.gap();
        if self.clash.is_empty() {
            let layout = words.name(Named::Layout, self.layout.as_str());
            page.say(0, &format!("The days of the layout “{layout}” cannot be filled, whatever rules are left out."), Tone::Plain);
        } else {
            let head = if self.irreducible {
                "These cannot hold together; without any one of them the others can:"
            } else {
                "These cannot hold together:"
            };
            page.say(0, head, Tone::Plain);
            parts(&mut page, &words, &self.clash);
            for further in &self.further {
                page.gap();
                let once = words.clashing_part(&further.once);
                let head = format!("Without {once} these still cannot hold together:");
                page.say(0, &head, Tone::Plain);
                parts(&mut page, &words, &further.clash);
            }
        }
        page.gap();
        for caution in &self.cautions {
            page.hang(0, "Care   ", &caution.words, Tone::Warning);
        }
        page.hang(
            0,
            "Rules  ",
            &format!("fingerprint {}.", self.fingerprint),
            Tone::Faint,
        );
        page.done()
    }
}

/// What clashes, and what could be changed about it.
fn parts(page: &mut Page, words: &Words<'_>, clash: &[Clash]) {
    for part in clash {
        page.hang(2, "- ", &words.clashing(&part.what), Tone::Plain);
    }
    page.gap();
    let some_are_enough = clash.iter().any(|part| part.enough);
    let head = if some_are_enough {
        "What could be changed, if a coach agrees:"
    } else {
        "What could be changed beside one of those below, if a coach agrees:"
    };
    page.say(0, head, Tone::Plain);
    for part in clash {
        let alone = if part.enough || !some_are_enough {
            ""
        } else {
            " (not enough by itself: more clashes)"
        };
        let relax = words.relax(&part.what);
        page.hang(2, "- ", &format!("{relax}{alone}"), Tone::Plain);
    }
}

impl NotFound {
    /// That nothing was found, as text in lines of at most 80 columns.
    #[must_use]
    pub fn text(&self) -> String {
        let mut page = Page::new(false);
        page.say(0, &not_found(self), Tone::Plain);
        page.done()
    }
}
