//! Files that are no track: each a clear error with its place, and never more than is read.

use std::io::Read;

use drillwright::{ErrorKind, KnowledgeBase, TrackSetup};
use rstest::rstest;

use super::made::{csv, like_published};
use super::{base, setup};

fn told(setup: &TrackSetup, from: impl Read) -> String {
    let error = base().track_from_reader("a.csv", setup, from).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Track, "{error}");
    for held in error.diagnostics() {
        assert!(!held.help.is_empty(), "{held}");
        assert_eq!(&*held.place.file, "a.csv");
    }
    error.to_string()
}

fn rows(line: &str) -> String {
    // Rows 2 to 41 are sound; what is asked about comes behind them.
    let mut text = csv(&like_published().rows(60.0)[..40]);
    text += line;
    text
}

#[rstest]
#[case("", "a.csv:1:1: there is nothing in the file")]
#[case("\n\n# only words\n", "there is nothing in the file")]
#[case("time,x,y\n", "a.csv:1:1: only 0 rows say where it was")]
#[case(
    "time,y\n0,1\n",
    "a.csv:1:1: nothing says which column is the place across the picture\n  help: say `across`; the file has `time`, `y`"
)]
#[case(
    "0.0,1.5,0.2\n0.1,1.5,0.2\n",
    "write a line with the names of the columns above the rows"
)]
#[case(
    "time [min],x,y\n",
    "a.csv:1:1: `min` is no unit of time that is read here"
)]
#[case(
    "time,x,x,y\n",
    "a.csv:1:8: two columns may be the place across the picture"
)]
#[case(
    "time,x (mm),y (cm)\n",
    "a.csv:1:6: the head says `mm`, and another unit was said"
)]
#[case(
    "time,\"x,y\n",
    "a quotation mark is opened and not closed on this line"
)]
fn a_head_that_says_too_little(#[case] text: &str, #[case] wanted: &str) {
    let told = told(&setup("snatch"), text.as_bytes());
    assert!(told.contains(wanted), "{told}");
}

#[rstest]
#[case("0.9,NaN,0.3\n", "a.csv:42:5: `NaN` is no number")]
#[case("0.9,1.5,inf\n", "a.csv:42:9: `inf` is no number")]
#[case("0.9,1.5\n", "a.csv:42:1: the row has 2 columns, and the head 3")]
#[case("0.1,1.5,0.3\n", "a.csv:42:1: time goes back: 0.100 s behind 0.650 s")]
#[case("0.650000,1.5,0.3\n", "a.csv:42:1: time goes nowhere")]
#[case(",1.5,0.3\n", "a.csv:42:1: the row has no time")]
#[case("0.9,1500,0.3\n", "`1500` is farther than anything that is tracked")]
#[case("0.9,1e999,0.3\n", "`1e999` is no number")]
#[case("0.9,0x10,0.3\n", "`0x10` is no number")]
fn a_row_that_is_none(#[case] line: &str, #[case] wanted: &str) {
    let told = told(&setup("snatch"), rows(line).as_bytes());
    assert!(told.contains(wanted), "{told}");
}

/// All of them at once, a hundred at the most.
#[test]
fn every_wrong_row_is_told() {
    let all = told(
        &setup("snatch"),
        rows("0.9,NaN,1\n1.0,1,1\n1.1,-,1\n").as_bytes(),
    );
    assert!(
        all.contains("a.csv:42:5") && all.contains("a.csv:44:5"),
        "{all}"
    );
    let many = rows(&"0.9,NaN,1\n".repeat(500));
    let error = base()
        .track_from_reader("a.csv", &setup("snatch"), many.as_bytes())
        .unwrap_err();
    assert_eq!(error.diagnostics().len(), 101);
    assert!(error.to_string().contains("100 rows are wrong up to here"));
}

#[rstest]
#[case(TrackSetup::new("snatch").facing("right"), "nothing says in which unit places are")]
#[case(TrackSetup::new("snatch").unit("m"), "nothing says which way the lifter faces")]
#[case(setup("snatch").unit("px").up_is("down"), "places are in picture points, and nothing says how large one is")]
#[case(setup("snatch").unit("px").scale("2"), "nothing says whether picture rows are counted downwards")]
#[case(setup("snatch").unit("ft"), "`unit` is `ft`\n  help: write one of m, cm, mm, px")]
#[case(setup("snatch").facing("forward"), "`facing` is `forward`")]
#[case(setup("snatch").scale("2"), "`scale` is said, and places are not in picture points")]
#[case(setup("snatch").height_cm("1.7"), "`height` is `1.7`\n  help: write a number from 50 to 280")]
#[case(setup("snatch").unit("px").scale("0"), "`scale` is `0`")]
#[case(setup("snatch").ground("low"), "`ground` is `low`, which is no number")]
#[case(setup("snatsh"), "did you mean `snatch`?")]
#[case(setup("snatch").measured("foot-displacment", 3), "did you mean `foot-displacement`?")]
#[case(setup("snatch").up_column("z"), "there is no column `z`")]
#[case(setup("snatch").up_column("x"), "one column cannot be two things")]
fn what_is_said_beside_a_file(#[case] setup: TrackSetup, #[case] wanted: &str) {
    let text = csv(&like_published().rows(60.0));
    let told = told(&setup, text.as_bytes());
    assert!(told.contains(wanted), "{told}");
}

#[test]
fn skills_without_events_have_no_tracks() {
    let text = csv(&like_published().rows(60.0));
    let error = base()
        .track_from_reader("a.csv", &setup("squat"), text.as_bytes())
        .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Open);
    assert!(
        error
            .to_string()
            .contains("the rules say nothing of tracks of `squat`"),
        "{error}"
    );
}

#[test]
fn bytes_that_are_no_text() {
    let mut bytes = rows("").into_bytes();
    bytes.extend(b"0.9,\xff,1\n");
    let told = told(&setup("snatch"), bytes.as_slice());
    assert!(
        told.contains("a.csv:42:5: the line is not UTF-8 from here on"),
        "{told}"
    );
}

/// Ten million rows, made as they are asked for, and how many bytes were asked for.
struct Endless {
    row: u64,
    left: Vec<u8>,
    asked: usize,
}

impl Read for &mut Endless {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        if self.left.is_empty() && self.row < 10_000_000 {
            if self.row == 0 {
                self.left.extend(b"time,x,y\n");
            }
            self.left
                .extend(format!("{}.{:03},1.5,0.2\n", self.row / 1000, self.row % 1000).bytes());
            self.row += 1;
        }
        let count = self.left.len().min(buffer.len());
        buffer[..count].copy_from_slice(&self.left[..count]);
        self.left.drain(..count);
        self.asked += count;
        Ok(count)
    }
}

/// They are a stream that is left as soon as it is too long.
#[test]
fn ten_million_rows_are_left_early() {
    let mut endless = Endless {
        row: 0,
        left: Vec::new(),
        asked: 0,
    };
    let told = told(&setup("snatch"), &mut endless);
    assert!(
        told.contains("a.csv:200002:1: there are more than 200000 rows"),
        "{told}"
    );
    assert!(endless.asked < 8_000_000, "{}", endless.asked);
}

#[test]
fn lines_and_columns_without_end() {
    let long = told(&setup("snatch"), std::io::repeat(b'a').take(10_000_000));
    assert!(
        long.contains("a.csv:1:1: the line has more than 4096 bytes"),
        "{long}"
    );
    let wide = told(&setup("snatch"), "a,".repeat(300).as_bytes());
    assert!(
        wide.contains("the line has more than 200 columns"),
        "{wide}"
    );
}

/// Times that hold a hole larger than any track, and a track that is too slow.
#[test]
fn times_that_are_none_of_a_track() {
    let mut text = csv(&like_published().rows(60.0));
    text += "80000,1.5,0.2\n";
    let hole = told(&setup("snatch"), text.as_bytes());
    assert!(hole.contains("cut the track to one attempt"), "{hole}");
    let slow = csv(&like_published().rows(10.0));
    let slow = told(&setup("snatch"), slow.as_bytes());
    assert!(
        slow.contains("there are 10 rows a second, and 25 are needed"),
        "{slow}"
    );
}

/// A file that breaks off while it is read.
#[test]
fn a_reader_that_fails() {
    struct Fails;
    impl Read for Fails {
        fn read(&mut self, _: &mut [u8]) -> std::io::Result<usize> {
            Err(std::io::Error::other("cable pulled"))
        }
    }
    let told = told(
        &setup("snatch"),
        "time,x,y\n0,1,1\n".as_bytes().chain(Fails),
    );
    assert!(
        told.contains("a.csv:3:1: the file could not be read on: cable pulled"),
        "{told}"
    );
}

/// Any cut and any changed byte is an answer or an error, and never the end of the program.
#[test]
fn whatever_is_done_to_a_file_is_told() {
    let base: KnowledgeBase = base();
    let text = csv(&like_published().rows(30.0)).into_bytes();
    let ask = |bytes: &[u8]| {
        if let Ok(track) = base.track_from_reader("a.csv", &setup("snatch"), bytes) {
            base.track(&track).unwrap();
        }
    };
    for at in (0..text.len()).step_by(97) {
        ask(&text[..at]);
        for byte in [b'"', b',', b'\n', b'9', b'-', 0, 0xc3] {
            let mut bytes = text.clone();
            bytes[at] = byte;
            ask(&bytes);
        }
    }
}
