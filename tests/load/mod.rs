//! Reading packs and cases: what is refused, where, and with what help.

mod api;
mod builtin;
