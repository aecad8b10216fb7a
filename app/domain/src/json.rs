//! Reading JSON in one way a shape.
//!
//! The text is parsed by `serde_json`; here its values only find their types. `serde_json`'s own
//! reader accepts a struct written as an object or as an array and repeats its scanning in every
//! type, which made it a tenth of what a phone has to fetch. This one reads a struct from an
//! object and nothing else, and its errors name the way to the field instead of line and column.

mod once;

use once::Once;
use serde::de::{self, Deserialize, DeserializeSeed, Deserializer, Unexpected, Visitor};
use serde_json::{Error, Map, Number, Value, map};
use std::iter::Enumerate;
use std::{fmt, slice};

/// Reads a text.
///
/// # Errors
/// Text that is not JSON, or values that are not what the type asks for.
pub fn read<T: de::DeserializeOwned>(text: &str) -> Result<T, Error> {
    of(&parse(text.as_bytes())?)
}

/// Parses a text in which no object names a field twice: of two figures neither is dropped
/// without a word.
///
/// # Errors
/// Text that is not JSON, or a field that is named twice.
pub fn parse(text: &[u8]) -> Result<Value, Error> {
    serde_json::from_slice(text).map(|Once(value)| value)
}

/// Reads a value that was parsed already.
///
/// # Errors
/// Values that are not what the type asks for.
pub fn of<T: de::DeserializeOwned>(value: &Value) -> Result<T, Error> {
    T::deserialize(Shaped(value))
}

#[derive(Clone, Copy)]
struct Shaped<'a>(&'a Value);

impl Shaped<'_> {
    fn unlike(self, expected: &dyn de::Expected) -> Error {
        let found = match self.0 {
            Value::Null => Unexpected::Unit,
            Value::Bool(b) => Unexpected::Bool(*b),
            Value::Number(n) => Unexpected::Float(n.as_f64().unwrap_or_default()),
            Value::String(s) => Unexpected::Str(s),
            Value::Array(_) => Unexpected::Seq,
            Value::Object(_) => Unexpected::Map,
        };
        de::Error::invalid_type(found, expected)
    }
}

fn visit_number<'de, V: Visitor<'de>>(number: &Number, visitor: V) -> Result<V::Value, Error> {
    if let Some(n) = number.as_u64() {
        visitor.visit_u64(n)
    } else if let Some(n) = number.as_i64() {
        visitor.visit_i64(n)
    } else {
        visitor.visit_f64(number.as_f64().unwrap_or(f64::NAN))
    }
}

macro_rules! numbers {
    ($($method:ident)*) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
            match self.0 {
                Value::Number(n) => visit_number(n, visitor),
                _ => Err(self.unlike(&visitor)),
            }
        }
    )*};
}

macro_rules! texts {
    ($($method:ident)*) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
            match self.0 {
                Value::String(s) => visitor.visit_str(s),
                _ => Err(self.unlike(&visitor)),
            }
        }
    )*};
}

impl<'de> Deserializer<'de> for Shaped<'_> {
    type Error = Error;

    numbers!(deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64 deserialize_u8 deserialize_u16
        deserialize_u32 deserialize_u64 deserialize_f32 deserialize_f64);

    texts!(deserialize_str deserialize_string deserialize_char deserialize_identifier deserialize_bytes
        deserialize_byte_buf);

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.0 {
            Value::Null => visitor.visit_unit(),
            Value::Bool(b) => visitor.visit_bool(*b),
            Value::Number(n) => visit_number(n, visitor),
            Value::String(s) => visitor.visit_str(s),
            Value::Array(list) => visitor.visit_seq(Items(list.iter().enumerate())),
            Value::Object(fields) => visitor.visit_map(Fields::of(fields)),
        }
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.0 {
            Value::Bool(b) => visitor.visit_bool(*b),
            _ => Err(self.unlike(&visitor)),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.0 {
            Value::Null => visitor.visit_none(),
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_unit<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.0 {
            Value::Null => visitor.visit_unit(),
            _ => Err(self.unlike(&visitor)),
        }
    }

    fn deserialize_unit_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Error> {
        self.deserialize_unit(visitor)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Error> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        let Value::Array(list) = self.0 else {
            return Err(self.unlike(&visitor));
        };
        let mut items = Items(list.iter().enumerate());
        let read = visitor.visit_seq(&mut items)?;
        match items.0.len() {
            0 => Ok(read),
            _ => Err(de::Error::invalid_length(list.len(), &"fewer elements")),
        }
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Error> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, Error> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.0 {
            Value::Object(fields) => visitor.visit_map(Fields::of(fields)),
            _ => Err(self.unlike(&visitor)),
        }
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        self.deserialize_map(visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        let variant = match self.0 {
            Value::String(name) => Some(Variant { name, value: None }),
            Value::Object(fields) if fields.len() == 1 => {
                let one = fields.iter().next();
                one.map(|(name, value)| Variant {
                    name,
                    value: Some(value),
                })
            }
            _ => None,
        };
        match variant {
            Some(variant) => visitor.visit_enum(variant),
            None => Err(self.unlike(&visitor)),
        }
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        visitor.visit_unit()
    }
}

struct Items<'a>(Enumerate<slice::Iter<'a, Value>>);

impl<'de> de::SeqAccess<'de> for Items<'_> {
    type Error = Error;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Error> {
        let Some((at, value)) = self.0.next() else {
            return Ok(None);
        };
        match seed.deserialize(Shaped(value)) {
            Ok(read) => Ok(Some(read)),
            Err(why) => Err(within(&at, &why)),
        }
    }
}

/// An error with one step more of the way to it.
fn within(step: &dyn fmt::Display, why: &Error) -> Error {
    de::Error::custom(format_args!("{step}: {why}"))
}

struct Fields<'a> {
    rest: map::Iter<'a>,
    name: &'a str,
    value: &'a Value,
}

impl<'a> Fields<'a> {
    fn of(fields: &'a Map<String, Value>) -> Self {
        Self {
            rest: fields.iter(),
            name: "",
            value: &Value::Null,
        }
    }
}

impl<'de> de::MapAccess<'de> for Fields<'_> {
    type Error = Error;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Error> {
        let Some((name, value)) = self.rest.next() else {
            return Ok(None);
        };
        (self.name, self.value) = (name, value);
        seed.deserialize(Name(name)).map(Some)
    }

    fn next_value_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<T::Value, Error> {
        let read = seed.deserialize(Shaped(self.value));
        read.map_err(|why| within(&self.name, &why))
    }
}

/// The name of a field, or a key of a map.
#[derive(Clone, Copy)]
struct Name<'a>(&'a str);

impl<'de> Deserializer<'de> for Name<'_> {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        visitor.visit_str(self.0)
    }

    fn deserialize_u64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.0.parse() {
            Ok(number) => visitor.visit_u64(number),
            Err(_) => Err(de::Error::invalid_type(Unexpected::Str(self.0), &visitor)),
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Error> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        visitor.visit_enum(Variant {
            name: self.0,
            value: None,
        })
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u128 f32 f64 char str string bytes byte_buf option unit
        unit_struct seq tuple tuple_struct map struct identifier ignored_any
    }
}

struct Variant<'a> {
    name: &'a str,
    value: Option<&'a Value>,
}

impl<'a> Variant<'a> {
    fn inner(&self) -> Result<Shaped<'a>, Error> {
        let missing = || de::Error::custom(format_args!("'{}' lacks its value", self.name));
        self.value.map(Shaped).ok_or_else(missing)
    }
}

impl<'de> de::EnumAccess<'de> for Variant<'_> {
    type Error = Error;
    type Variant = Self;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, Self), Error> {
        let which = seed.deserialize(Name(self.name))?;
        Ok((which, self))
    }
}

impl<'de> de::VariantAccess<'de> for Variant<'_> {
    type Error = Error;

    fn unit_variant(self) -> Result<(), Error> {
        self.value
            .map_or(Ok(()), |value| <()>::deserialize(Shaped(value)))
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, Error> {
        seed.deserialize(self.inner()?)
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Error> {
        self.inner()?.deserialize_seq(visitor)
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        self.inner()?.deserialize_map(visitor)
    }
}

#[cfg(test)]
mod tests;
