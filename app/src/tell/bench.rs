//! The verdict where more can be counted: what is in doubt, and how far to count on.

use super::{Told, verdict};
use crate::parts::Role;
use crate::words::{Words, key};
use pentally_domain::verdict::{Judged, Outcome, Overall, Reason, Standing, Verdict};

/// The verdict at the bench: pass, doubtful, or fail. What is doubtful still passes or fails by
/// the limit, and the sentence says which.
pub fn verdict_at_bench(w: &Words, judged: &Verdict, looked: bool) -> Told {
    let told = verdict(w, judged, looked);
    let Some(doubts) = doubts(w, judged) else {
        return told;
    };
    let unfit = matches!(judged.overall, Overall::DoNotUse { .. });
    let mut why: Vec<_> = unfit
        .then(|| w.tr(key::DOUBT_UNFIT_SO_FAR))
        .into_iter()
        .collect();
    why.extend(doubts);
    // How far to count on is told with the figure.
    let close = w.tr(key::RULE_CLOSE);
    let shorter = |said: &String| said.trim_end_matches(&close).trim_end().to_owned();
    why.extend(told.why.iter().map(shorter));
    Told {
        role: Role::Rest,
        headline: w.tr(key::DOUBT_HEADLINE),
        why,
    }
}

/// What would settle the doubt, where the verdict is in doubt and nothing else forbids use.
pub fn doubts(w: &Words, judged: &Verdict) -> Option<Vec<String>> {
    let doubtful: Vec<_> = judged
        .rules
        .iter()
        .filter(|rule| rule.standing() == Standing::Doubtful)
        .collect();
    let by_doubt_alone = match &judged.overall {
        Overall::DoNotUse { reasons } => reasons
            .iter()
            .all(|reason| doubtful.iter().any(|rule| rule.rule == *reason)),
        Overall::Use | Overall::NotMeasured { .. } => true,
    };
    (!doubtful.is_empty() && by_doubt_alone)
        .then(|| doubtful.iter().filter_map(|rule| more(w, rule)).collect())
}

/// "Motility: count 150 more."
fn more(w: &Words, judged: &Judged) -> Option<String> {
    let what = w.tr(match judged.rule {
        Reason::Motility => key::MEASURE_MOTILE,
        Reason::Abnormal => key::MEASURE_ABNORMAL,
        Reason::Droplets => key::MEASURE_DROPLETS,
        _ => return None,
    });
    Some(match judged.more_cells {
        Some(n) => w.tr_with(
            key::DOUBT_MORE_OF,
            &[("what", what.into()), ("n", n.into())],
        ),
        None => w.tr_with(key::DOUBT_STAYS_OF, &[("what", what.into())]),
    })
}

/// "True motility below 70 %: 1 in 8."
pub fn misses(w: &Words, judged: &Judged) -> Option<String> {
    let chance = judged.misses_chance.as_ref()?.number();
    let said = match judged.rule {
        Reason::Motility => key::DOUBT_MOTILE_BELOW,
        Reason::Abnormal => key::DOUBT_ABNORMAL_ABOVE,
        Reason::Droplets => key::DOUBT_DROPLETS_ABOVE,
        _ => return None,
    };
    let args = [
        ("bound", w.num(judged.limit_percent, 0).into()),
        ("chance", odds(w, chance).into()),
    ];
    Some(w.tr_with(said, &args))
}

/// How far to count on where it is in doubt.
pub fn count_more(w: &Words, judged: &Judged, by_eye: bool) -> Option<String> {
    if judged.standing() != Standing::Doubtful || judged.outcome == Outcome::NotMeasured {
        return None;
    }
    Some(match judged.more_cells {
        Some(n) if by_eye => w.tr_with(key::DOUBT_COUNT_CELLS, &[("n", n.into())]),
        Some(n) => w.tr_with(key::DOUBT_COUNT_MORE, &[("n", n.into())]),
        None => w.tr(key::DOUBT_STAYS),
    })
}

/// A chance as people say it: one in so many while it is small, so many in ten where it is not.
fn odds(w: &Words, chance: f64) -> String {
    let one_in = |many: f64| w.tr_with(key::ODDS_ONE_IN, &[("n", w.num(many, 0).into())]);
    let to = |step: f64| (1.0 / chance / step).round() * step;
    match chance {
        c if c < 0.001 => w.tr(key::ODDS_RARE),
        c if c < 0.005 => one_in(to(100.0)),
        c if c < 0.05 => one_in(to(10.0)),
        c if c < 0.35 => one_in(to(1.0)),
        c if c < 0.95 => {
            let tenths = (c * 10.0).round().min(9.0);
            w.tr_with(key::ODDS_IN_TEN, &[("n", w.num(tenths, 0).into())])
        }
        c if c < 0.999 => w.tr(key::ODDS_LIKELY),
        _ => w.tr(key::ODDS_CERTAIN),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::Lang;

    #[test]
    fn a_chance_is_told_as_people_say_it() {
        let w = Words::of(Lang::En);
        let told = |chance| odds(&w, chance);
        assert_eq!(told(0.125), "1 in 8");
        assert_eq!(told(0.34), "1 in 3");
        assert_eq!(told(0.02), "1 in 50");
        assert_eq!(told(0.5), "5 in 10");
        assert_eq!(told(0.949), "9 in 10");
        assert_eq!(told(0.0), told(0.000_9));
        assert_eq!(told(1.0), told(0.999_5));
    }
}
