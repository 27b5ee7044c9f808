//! A fingerprint of rule files that is the same on every machine.

const START: u64 = 0xcbf2_9ce4_8422_2325;
const PRIME: u64 = 0x0000_0100_0000_01b3;

/// FNV-1a of 64 bits over names and texts, sorted by name, each with its length before it, so that
/// what moves from one into another changes it; as 16 hexadecimal digits.
pub(super) fn of<'a>(files: impl Iterator<Item = (&'a str, &'a str)>) -> String {
    let mut files: Vec<(&str, &str)> = files.collect();
    files.sort_unstable();
    let mut hash = START;
    for text in files.iter().flat_map(|(name, text)| [*name, *text]) {
        let length = u64::try_from(text.len()).unwrap_or(u64::MAX);
        for byte in length.to_le_bytes().iter().chain(text.as_bytes()) {
            hash = (hash ^ u64::from(*byte)).wrapping_mul(PRIME);
        }
    }
    format!("{hash:016x}")
}

#[cfg(test)]
mod tests {
    use super::{PRIME, START, of};

    fn plain(bytes: &[u8]) -> u64 {
        bytes.iter().fold(START, |hash, byte| {
            (hash ^ u64::from(*byte)).wrapping_mul(PRIME)
        })
    }

    #[test]
    fn is_the_published_function() {
        // Test vectors of the function's authors for "" and "foobar".
        assert_eq!(plain(b""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(plain(b"foobar"), 0x8594_4171_f739_67e8);
    }

    #[test]
    fn depends_on_names_and_texts_and_not_on_their_order() {
        let one = of([("a", "x"), ("b", "y")].into_iter());
        assert_eq!(one, of([("b", "y"), ("a", "x")].into_iter()));
        assert_eq!(one.len(), 16);
        for other in [
            [("a", "y"), ("b", "x")],
            [("a", "xb"), ("", "y")],
            [("a", "x"), ("c", "y")],
        ] {
            assert_ne!(one, of(other.into_iter()));
        }
    }
}
