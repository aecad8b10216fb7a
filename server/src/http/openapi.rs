//! The table as an `OpenAPI` document.

mod reckonings;

use super::problem::{Code, KINDS};
use super::table::{FILE, Route, TABLE};
use axum::Json;
use serde_json::{Map, Value, json};

/// The document of [`TABLE`].
pub(super) async fn document() -> Json<Value> {
    Json(of(TABLE))
}

/// `OpenAPI` 3.1 of a table.
pub fn of(table: &[Route]) -> Value {
    let mut paths = Map::new();
    for route in table {
        let place = paths.entry(route.path).or_insert_with(|| json!({}));
        place[route.method] = operation(route);
    }
    let any = table
        .iter()
        .find(|route| route.path.ends_with("/reckon/{name}"));
    let each = any.map(|any| reckonings::paths(any.path, &operation(any)));
    for (path, operations) in each.into_iter().flatten() {
        paths.insert(path, operations);
    }
    json!({
        "openapi": "3.1.0",
        "info": { "title": "Pentally", "version": env!("CARGO_PKG_VERSION") },
        "paths": paths,
        "components": { "schemas": { "Problem": problem() } },
    })
}

fn operation(route: &Route) -> Value {
    let query = route.query.iter().map(|(name, what)| {
        json!({ "name": name, "in": "query", "required": false, "description": what, "schema": { "type": "string" } })
    });
    let path = route
        .path
        .split('/')
        .filter_map(|part| part.strip_prefix('{')?.split('}').next());
    let path = path.map(|name| json!({ "name": name, "in": "path", "required": true, "schema": { "type": "string" } }));
    let (media, holds) = route.answer;
    let mut operation = json!({
        "summary": route.summary,
        "x-role": route.may.word(),
        "parameters": path.chain(query).collect::<Vec<_>>(),
        "responses": {
            "200": { "description": holds, "content": { media: {} } },
            "default": {
                "description": "A problem document (RFC 9457).",
                "content": { "application/problem+json": { "schema": { "$ref": "#/components/schemas/Problem" } } },
            },
        },
    });
    if let Some((body, most)) = route.body {
        let content = if body == FILE {
            json!({ "application/octet-stream": {} })
        } else {
            json!({ "application/json": { "schema": { "type": "object" } } })
        };
        operation["requestBody"] = json!({
            "required": true,
            "description": body,
            "content": content,
            "x-max-bytes": most,
        });
    }
    operation
}

fn problem() -> Value {
    let kinds: Vec<_> = KINDS.iter().map(|(kind, _, _)| kind).collect();
    json!({
        "type": "object",
        "required": ["type", "title", "status", "detail"],
        "properties": {
            "type": { "enum": kinds },
            "title": { "type": "string" },
            "status": { "type": "integer" },
            "detail": { "type": "string" },
            "code": { "enum": Code::ALL },
        },
    })
}
