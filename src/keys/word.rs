//! Lists of words that results are made of: each word stands once, for JSON and for screens.

/// An enum whose variants are words.
///
/// JSON and `Display` give the word; nothing else knows how it is spelt.
macro_rules! words {
    ($(#[$about:meta])* $visible:vis enum $Name:ident { $($(#[$note:meta])* $Variant:ident = $word:literal,)+ }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
        #[non_exhaustive]
        $visible enum $Name {
            $($(#[$note])* #[serde(rename = $word)] $Variant,)+
        }

        impl From<$Name> for &'static str {
            fn from(one: $Name) -> &'static str {
                match one { $($Name::$Variant => $word,)+ }
            }
        }

        impl From<$Name> for String {
            fn from(one: $Name) -> String {
                <&str>::from(one).to_string()
            }
        }

        impl std::fmt::Display for $Name {
            fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
                f.pad((*self).into())
            }
        }
    };
}

pub(crate) use words;

#[cfg(test)]
mod tests {
    words! {
        enum Weather { Dry = "dry", TooWet = "too wet", }
    }

    #[test]
    fn json_and_screens_have_the_same_word() {
        for weather in [Weather::Dry, Weather::TooWet] {
            let json = serde_json::to_string(&weather).expect("a word");
            assert_eq!(json, format!("\"{weather}\""));
        }
        assert_eq!(format!("{:>8}", Weather::TooWet), " too wet");
    }
}
