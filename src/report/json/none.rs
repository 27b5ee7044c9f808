//! That there is no week, or that none was found, as a document for programs.

use serde::{Deserialize, Serialize};

use super::{SaidDocument, this_format};

document! {
    /// No week satisfies the hard rules.
    NoWeekDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The fingerprint of the rules.
        fingerprint: String,
        /// `claimed`: the search says that there is none.
        no_week: String,
        /// What cannot hold together.
        clash: Vec<ClashDocument>,
        /// What still cannot hold together behind it, where no part of it is enough by itself.
        further: Vec<FurtherDocument>,
        /// Whether leaving out any one part was seen to let the others hold.
        irreducible: bool,
        /// What must be said all the same.
        cautions: Vec<SaidDocument>,
    }
}

document! {
    /// A clash that stands behind another one.
    FurtherDocument {
        /// The part of the clash before that is left out here.
        once: String,
        /// What cannot hold together then.
        clash: Vec<ClashDocument>,
    }
}

document! {
    /// One part of a clash.
    ClashDocument {
        /// In words: the rule with its place, or what the case says.
        what: String,
        /// What could be changed about it.
        relax: String,
        /// Whether that alone gives a week; in a further clash, without what is left out there.
        enough: bool,
    }
}

document! {
    /// No week was found within the limit of work, or before the search was cancelled; there may be one.
    NotFoundDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The fingerprint of the rules.
        fingerprint: String,
        /// Nodes that the search took.
        not_found_after_nodes: u64,
        /// Whether it was cancelled.
        cancelled: bool,
    }
}
