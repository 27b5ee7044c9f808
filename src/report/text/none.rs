//! That there is no week, or that none was found.

use crate::explain::{Named, NoWeek, NotFound};
use crate::report::page::{Page, Tone};
use crate::report::words::Words;

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
            for clash in &self.clash {
                page.hang(2, "- ", &words.clashing(&clash.what), Tone::Plain);
            }
            page.gap();
            page.say(0, "What could be changed, if a coach agrees:", Tone::Plain);
            for clash in &self.clash {
                let alone = if clash.enough {
                    ""
                } else {
                    " (not enough by itself: more clashes)"
                };
                page.hang(
                    2,
                    "- ",
                    &format!("{}{alone}", words.relax(&clash.what)),
                    Tone::Plain,
                );
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

impl NotFound {
    /// That nothing was found, as text in lines of at most 80 columns.
    #[must_use]
    pub fn text(&self) -> String {
        let mut page = Page::new(false);
        page.say(
            0,
            &format!(
                "No week was found within the limit of work, after {} nodes. There may be one: allow more work, or ask for less.",
                self.nodes
            ),
            Tone::Plain,
        );
        page.done()
    }
}
