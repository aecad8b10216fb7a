//! JSON in which no object names a field twice.

use serde::de::{self, Deserialize, Deserializer, Visitor};
use serde_json::{Map, Value};
use std::fmt;

/// A value whose objects name each field once.
pub struct Once(pub Value);

impl<'de> Deserialize<'de> for Once {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(OnceVisitor).map(Self)
    }
}

struct OnceVisitor;

impl<'de> Visitor<'de> for OnceVisitor {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_i64<E>(self, value: i64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_u64<E>(self, value: u64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_f64<E>(self, value: f64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_str<E>(self, value: &str) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_string<E>(self, value: String) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_seq<A: de::SeqAccess<'de>>(self, mut items: A) -> Result<Value, A::Error> {
        let mut list = vec![];
        while let Some(Once(value)) = items.next_element()? {
            list.push(value);
        }
        Ok(list.into())
    }

    fn visit_map<A: de::MapAccess<'de>>(self, mut fields: A) -> Result<Value, A::Error> {
        let mut map = Map::new();
        while let Some((name, Once(value))) = fields.next_entry::<String, _>()? {
            if map.insert(name.clone(), value).is_some() {
                return Err(de::Error::custom(format_args!("duplicate field `{name}`")));
            }
        }
        Ok(map.into())
    }
}
