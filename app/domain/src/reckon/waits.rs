//! The request about waiting times: curves of groups, and whether they wait alike.

use super::ReckonError;
use crate::survival::{Compared, Curve, Middle, Observed, compare, curve};
use crate::units::so_many;
use serde::{Deserialize, Serialize};

/// The most groups.
const GROUPS_HIGH: usize = 20;
/// The most who are watched, in all groups; keeps an answer within milliseconds.
const WATCHED_HIGH: usize = 10_000;

/// Groups of those who were watched.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SurvivalAsked {
    /// The groups, 1 to 20; at most 10,000 watched in all.
    pub groups: Vec<GroupAsked>,
}

/// One group.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GroupAsked {
    /// Those in it, in any order.
    pub observed: Vec<ObservedAsked>,
}

/// One who was watched.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ObservedAsked {
    /// For how long, in days or sessions.
    pub time: f64,
    /// Whether it happened then; if not, it was still awaited.
    pub happened: bool,
}

/// The curves, and what the groups say about each other.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SurvivalAnswer {
    /// The groups in the order asked.
    pub groups: Vec<GroupAnswer>,
    /// Whether they wait alike.
    pub compared: Compared,
}

/// One group's curve.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct GroupAnswer {
    /// What can be said of its middle.
    pub median: Middle,
    /// The curve, in points.
    pub curve: Curve,
}

/// `survival`
pub fn survival(asked: &SurvivalAsked) -> Result<SurvivalAnswer, ReckonError> {
    let watched = asked.groups.iter().map(|g| g.observed.len()).sum();
    so_many("groups", asked.groups.len(), 1..=GROUPS_HIGH, "groups")?;
    so_many("observed", watched, 0..=WATCHED_HIGH, "observed in all")?;
    let checked = |group: &GroupAsked| {
        let observed = group.observed.iter();
        observed
            .map(|o| Observed::new(o.time, o.happened))
            .collect()
    };
    let groups: Vec<Vec<Observed>> = asked.groups.iter().map(checked).collect::<Result<_, _>>()?;
    let answer = |group: &Vec<Observed>| {
        let curve = curve(group);
        GroupAnswer {
            median: curve.middle(),
            curve,
        }
    };
    Ok(SurvivalAnswer {
        groups: groups.iter().map(answer).collect(),
        compared: compare(&groups),
    })
}
