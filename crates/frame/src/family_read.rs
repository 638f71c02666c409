//! Reading the values of a family file: lengths, masses, ends of tubes.

use std::fmt;
use std::marker::PhantomData;

use measure::{Length, Mass, Unit};
use serde::de::value::{MapAccessDeserializer, SeqAccessDeserializer};
use serde::de::{DeserializeOwned, Error as _, MapAccess, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer};

use crate::family_file::{Extent, Turn};
use crate::part::End;

pub(crate) fn read_length<E: serde::de::Error>(text: &str) -> Result<Length, E> {
    Length::read(text, None).map_err(E::custom)
}

pub(crate) fn length<'de, D: Deserializer<'de>>(from: D) -> Result<Length, D::Error> {
    struct Text;

    impl Visitor<'_> for Text {
        type Value = Length;

        fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
            f.write_str("a length with its unit, such as \"6 in\" or \"1.2 m\"")
        }

        fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Length, E> {
            read_length(text)
        }
    }

    from.deserialize_str(Text)
}

pub(crate) fn maybe_length<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Length>, D::Error> {
    length(from).map(Some)
}

pub(crate) fn lengths<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<Length>, D::Error> {
    #[derive(Deserialize)]
    struct One(#[serde(deserialize_with = "length")] Length);

    let read = Vec::<One>::deserialize(from)?;
    Ok(read.into_iter().map(|One(length)| length).collect())
}

/// A length, or that it follows.
pub(crate) fn extent<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Extent>, D::Error> {
    let text = String::deserialize(from)?;
    match text.as_str() {
        FOLLOWS => Ok(Some(Extent::Follows)),
        _ => read_length(&text).map(|length| Some(Extent::Of(length))),
    }
}

/// Degrees, or that they follow.
pub(crate) fn turn<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Turn>, D::Error> {
    struct Degrees;

    impl Visitor<'_> for Degrees {
        type Value = Turn;

        fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
            write!(f, "degrees (such as 12.5) or \"{FOLLOWS}\"")
        }

        fn visit_f64<E: serde::de::Error>(self, degrees: f64) -> Result<Turn, E> {
            Ok(Turn::Of(degrees))
        }

        fn visit_i64<E: serde::de::Error>(self, degrees: i64) -> Result<Turn, E> {
            Ok(Turn::Of(degrees as f64))
        }

        fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Turn, E> {
            match text {
                FOLLOWS => Ok(Turn::Follows),
                _ => Err(E::invalid_value(serde::de::Unexpected::Str(text), &self)),
            }
        }
    }

    from.deserialize_any(Degrees).map(Some)
}

/// The word for a measure that follows from the others.
const FOLLOWS: &str = "follows";

/// Film is sold in mil, thousandths of an inch; anything else is read as a length.
pub(crate) fn maybe_thickness<'de, D: Deserializer<'de>>(
    from: D,
) -> Result<Option<Length>, D::Error> {
    let text = String::deserialize(from)?;
    let Some(mil) = text.trim().strip_suffix("mil") else {
        return read_length(&text).map(Some);
    };
    let mil: i64 = mil.trim().parse().map_err(|_| {
        D::Error::custom(format!(
            "`{text}` is no thickness; write a whole count, such as \"6 mil\""
        ))
    })?;
    Length::mils(1).checked_mul(mil).map(Some).ok_or_else(|| {
        D::Error::custom(format!(
            "`{text}` is thicker than anything that can be measured"
        ))
    })
}

pub(crate) fn maybe_mass<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Mass>, D::Error> {
    Mass::read(&String::deserialize(from)?, None)
        .map(Some)
        .map_err(D::Error::custom)
}

pub(crate) fn ends<'de, D: Deserializer<'de>>(from: D) -> Result<Option<[End; 2]>, D::Error> {
    let [one, other] = <[String; 2]>::deserialize(from)?;
    Ok(Some([end(&one)?, end(&other)?]))
}

pub(crate) fn end<E: serde::de::Error>(text: &str) -> Result<End, E> {
    match text {
        "plain" => Ok(End::Plain),
        "flattened" => Ok(End::Flattened),
        "punched" => Ok(End::Punched),
        _ => match text.strip_prefix("swaged ") {
            Some(over) => Ok(End::Swaged(
                Length::read(over, Some(Unit::Inch)).map_err(E::custom)?,
            )),
            None => Err(E::custom(format!(
                "`{text}` is no end of a tube; it may be plain, flattened, punched, or swaged with a length \
                 (\"swaged 4 in\")"
            ))),
        },
    }
}

/// A count of kilograms a cubic metre, or grams a square metre; more than nothing, and no more than metal has.
pub(crate) fn density<'de, D: Deserializer<'de>>(from: D) -> Result<f64, D::Error> {
    let found = f64::deserialize(from)?;
    if found > 0.0 && found <= 20_000.0 {
        Ok(found)
    } else {
        Err(D::Error::custom(format!(
            "{found} is no density; it must be over 0 and at most 20000"
        )))
    }
}

/// One role, or several.
pub(crate) fn roles<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<String>, D::Error> {
    struct Roles;

    impl<'de> Visitor<'de> for Roles {
        type Value = Vec<String>;

        fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
            f.write_str("a role (\"ridge\"), or several ([\"ridge\", \"purlin\"])")
        }

        fn visit_str<E: serde::de::Error>(self, role: &str) -> Result<Vec<String>, E> {
            Ok(vec![role.into()])
        }

        fn visit_seq<A: SeqAccess<'de>>(self, seq: A) -> Result<Vec<String>, A::Error> {
            Vec::deserialize(SeqAccessDeserializer::new(seq))
        }
    }

    from.deserialize_any(Roles)
}

/// One table, or several under one name.
pub(crate) fn all<'de, D: Deserializer<'de>, T: DeserializeOwned>(
    from: D,
) -> Result<Vec<T>, D::Error> {
    struct OneOrMore<T>(PhantomData<T>);

    impl<'de, T: DeserializeOwned> Visitor<'de> for OneOrMore<T> {
        type Value = Vec<T>;

        fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
            f.write_str("a table, or several")
        }

        fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<Vec<T>, A::Error> {
            T::deserialize(MapAccessDeserializer::new(map)).map(|one| vec![one])
        }

        fn visit_seq<A: SeqAccess<'de>>(self, seq: A) -> Result<Vec<T>, A::Error> {
            Vec::deserialize(SeqAccessDeserializer::new(seq))
        }
    }

    from.deserialize_any(OneOrMore(PhantomData))
}
