//! What a client can set.

use std::ops::RangeInclusive;

const HASH_DEFAULT: usize = 16;
const HASH: RangeInclusive<usize> = 1..=1024;
const MEGABYTE: usize = 1 << 20;

/// The size of the table unless the client sets another, in bytes.
pub const HASH_BYTES: usize = HASH_DEFAULT * MEGABYTE;

/// A setting that the client asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Setting {
    HashBytes(usize),
    ClearHash,
}

/// The lines that tell the client what there is to set.
#[must_use]
pub fn lines() -> [String; 2] {
    [
        format!(
            "option name Hash type spin default {HASH_DEFAULT} min {} max {}",
            HASH.start(),
            HASH.end()
        ),
        "option name Clear Hash type button".to_owned(),
    ]
}

/// The setting of that name, in capitals or not; `None` if there is none.
///
/// # Errors
///
/// A sentence for a value that the setting cannot have.
pub fn setting(name: &str, value: Option<&str>) -> Result<Option<Setting>, String> {
    if name.eq_ignore_ascii_case("Clear Hash") {
        return Ok(Some(Setting::ClearHash));
    }
    if !name.eq_ignore_ascii_case("Hash") {
        return Ok(None);
    }
    let value = value.unwrap_or("");
    match value.parse() {
        Ok(megabytes) if HASH.contains(&megabytes) => {
            Ok(Some(Setting::HashBytes(megabytes * MEGABYTE)))
        }
        _ => Err(format!(
            "Hash is {} to {} megabytes, not \"{value}\"",
            HASH.start(),
            HASH.end()
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hash_is_set_within_its_limits() {
        let bytes = |text| setting("hash", Some(text));
        assert_eq!(bytes("1"), Ok(Some(Setting::HashBytes(1 << 20))));
        assert_eq!(bytes("1024"), Ok(Some(Setting::HashBytes(1 << 30))));
        for bad in ["0", "1025", "-1", "", "x", "16 MB"] {
            assert!(bytes(bad).unwrap_err().contains("1 to 1024"), "{bad}");
        }
        assert!(setting("Hash", None).is_err());
    }

    #[test]
    fn other_names_set_nothing() {
        assert_eq!(setting("Clear Hash", None), Ok(Some(Setting::ClearHash)));
        assert_eq!(setting("Contempt", Some("3")), Ok(None));
        assert_eq!(setting("", None), Ok(None));
    }
}
