//! Letting devices in, and shutting them out.

use super::body::Body;
use super::house::House;
use super::problem::{Code, GONE, IMPOSSIBLE, MALFORMED, NO_NETWORK, NOT_FOUND, Problem, TOO_MANY};
use crate::access::{Proof, cookie, hash_of, matches, secret};
use crate::moment::now_ms;
use crate::tags::qr;
use axum::Json;
use axum::extract::{ConnectInfo, State};
use axum::http::header::{CACHE_CONTROL, SET_COOKIE};
use axum::response::{IntoResponse, Response};
use pentally_domain::pairing::{
    Answer, Finish, Finished, Knock, Knocked, Login, Offer, OfferAsked, PairedDevice, Revoke, Role,
    Standing,
};
use pentally_domain::said::Label;
use std::net::SocketAddr;
use tracing::{info, warn};

/// Offers to let a device in.
pub(super) async fn offer(State(house): State<House>, body: Body) -> Result<Json<Offer>, Problem> {
    let asked: OfferAsked = body.json()?;
    let Some(origin) = house.network().origin() else {
        let says = "put the barn on the farm's network first, at /network";
        return Err(Problem::new(NO_NETWORK, says));
    };
    let (secret, code, now_ms) = (secret()?, code()?, now_ms());
    let n = house.pairings().offer(asked.role, &secret, &code, now_ms);
    let address = format!("{origin}/pair#{secret}");
    let symbol = qr(&address).map_err(|e| Problem::new(IMPOSSIBLE, e.to_string()))?;
    Ok(Json(Offer {
        n,
        address,
        symbol,
        code,
        until_ms: now_ms + pentally_domain::pairing::OFFER_MS,
    }))
}

/// The offers that stand.
pub(super) async fn offers(State(house): State<House>) -> Json<Vec<Standing>> {
    Json(house.pairings().standing(now_ms()))
}

/// The office's yes or no.
pub(super) async fn answer(
    State(house): State<House>,
    body: Body,
) -> Result<Json<Vec<Standing>>, Problem> {
    let asked: Answer = body.json()?;
    let mut pairings = house.pairings();
    if pairings.answer(asked.n, asked.yes, now_ms()) {
        Ok(Json(pairings.standing(now_ms())))
    } else {
        let says = "nobody waits there any more: show a new code";
        Err(Problem::new(GONE, says).coded(Code::NobodyWaits))
    }
}

/// A device asks to come in.
pub(super) async fn knock(
    State(house): State<House>,
    ConnectInfo(from): ConnectInfo<SocketAddr>,
    body: Body,
) -> Result<Json<Knocked>, Problem> {
    let asked: Knock = body.json()?;
    let code: String;
    let proof = match (&asked.secret, &asked.code) {
        (Some(secret), None) => Proof::Secret(secret),
        (None, Some(typed)) => {
            code = typed.chars().filter(char::is_ascii_digit).collect();
            Proof::Code(&code)
        }
        _ => {
            let says = "either the secret that was scanned or the eight digits";
            return Err(Problem::new(MALFORMED, says));
        }
    };
    if let Proof::Code(_) = proof {
        may_guess(&house, from)?;
    }
    let claim = secret()?;
    let opened = house.pairings().knock(proof, asked.name, &claim, now_ms());
    let Some(until_ms) = opened else {
        warn!(from = %from.ip(), "a secret or code that opens nothing");
        let says = "that opens nothing: after five wrong codes or ten minutes the office must show a new one";
        return Err(Problem::new(GONE, says).coded(Code::NotACode));
    };
    if let Proof::Code(_) = proof {
        house.tries().give_back(from.ip());
    }
    Ok(Json(Knocked { claim, until_ms }))
}

/// Has the office looked? With the yes comes the cookie.
pub(super) async fn finish(State(house): State<House>, body: Body) -> Result<Response, Problem> {
    let asked: Finish = body.json()?;
    let fresh = secret()?;
    let finished = house.pairings().finish(&asked.claim, &fresh, now_ms());
    match finished {
        (says @ Finished::Paired { role }, Some((name, token))) => {
            let_in(&house, &token, name, role, says).await
        }
        (finished, _) => Ok(Json(finished).into_response()),
    }
}

/// A browser whose person knows the owner's passphrase becomes an office.
pub(super) async fn login(
    State(house): State<House>,
    ConnectInfo(from): ConnectInfo<SocketAddr>,
    body: Body,
) -> Result<Response, Problem> {
    let asked: Login = body.json()?;
    is_owner(&house, Some(from), asked.passphrase).await?;
    let done = Finished::Paired { role: Role::Office };
    let_in(&house, &secret()?, asked.name, Role::Office, done).await
}

/// Everybody who was let in.
pub(super) async fn paired(State(house): State<House>) -> Result<Json<Vec<PairedDevice>>, Problem> {
    house
        .with_own(crate::store::Store::all_paired)
        .await
        .map(Json)
}

/// Shuts a device out.
pub(super) async fn revoke(
    State(house): State<House>,
    body: Body,
) -> Result<Json<Vec<PairedDevice>>, Problem> {
    let Revoke { n } = body.json()?;
    let done = house
        .with_own(move |store| store.shut_out(n, now_ms()))
        .await?;
    if !done {
        return Err(Problem::new(
            NOT_FOUND,
            format!("no device has the number {n}"),
        ));
    }
    info!(n, "a device was shut out");
    paired(State(house)).await
}

/// Refuses what is not the owner's passphrase. Slow on purpose; never more than two at once, and
/// wrong ones from `guesses` are counted.
pub(super) async fn is_owner(
    house: &House,
    guesses: Option<SocketAddr>,
    passphrase: String,
) -> Result<(), Problem> {
    if let Some(from) = guesses {
        may_guess(house, from)?;
    }
    let hash = house.with_own(crate::store::Store::owner).await?;
    let turn = house.slow_turn().await;
    let look = move || hash.is_some_and(|hash| matches(&passphrase, &hash));
    let is_owner = tokio::task::spawn_blocking(look).await?;
    drop(turn);
    if !is_owner {
        warn!(
            from = guesses.map(|from| tracing::field::display(from.ip())),
            "a wrong passphrase"
        );
        let says =
            "this is not the owner's passphrase; `pentally owner` on the machine sets another";
        return Err(Problem::new(GONE, says).coded(Code::NotTheOwner));
    }
    if let Some(from) = guesses {
        house.tries().give_back(from.ip());
    }
    Ok(())
}

fn may_guess(house: &House, from: SocketAddr) -> Result<(), Problem> {
    if house.tries().take(from.ip(), now_ms()) {
        return Ok(());
    }
    warn!(from = %from.ip(), "too many wrong guesses");
    let says = "too many wrong guesses: wait a few minutes. At the machine itself the office is open all the time";
    Err(Problem::new(TOO_MANY, says))
}

async fn let_in(
    house: &House,
    token: &str,
    name: Label,
    role: Role,
    says: Finished,
) -> Result<Response, Problem> {
    let hash = hash_of(token);
    let paired = house
        .with_own(move |store| store.let_in(&hash, name.clone(), role, now_ms()))
        .await?;
    info!(
        n = paired.n,
        name = paired.name.as_str(),
        ?role,
        "a device was let in"
    );
    let headers = [
        (SET_COOKIE, cookie(token)),
        (CACHE_CONTROL, "no-store".to_owned()),
    ];
    Ok((headers, Json(says)).into_response())
}

/// Eight digits, every one as likely as the others.
fn code() -> Result<String, Problem> {
    const ALL: u32 = 100_000_000;
    loop {
        let mut bytes = [0; 4];
        getrandom::fill(&mut bytes).map_err(|e| std::io::Error::other(e.to_string()))?;
        let number = u32::from_le_bytes(bytes);
        if number < u32::MAX - u32::MAX % ALL {
            return Ok(format!("{:08}", number % ALL));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::access::hashed;
    use crate::http::body::Most;
    use crate::moment::birth;
    use crate::network::{Network, Said};
    use crate::store::Store;
    use axum::extract::{FromRequest, Request};
    use serde::Serialize;
    use std::io::{self, Write};
    use std::path::Path;
    use std::sync::{Arc, Mutex};

    const PASSPHRASE: &str = "four calm grey boars";
    const WRONG: &str = "five wild black boars";

    #[derive(Clone, Default)]
    struct Lines(Arc<Mutex<Vec<u8>>>);

    impl Write for Lines {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.0.lock().unwrap().write(bytes)
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    async fn said(what: &impl Serialize) -> Body {
        let mut request = Request::new(serde_json::to_string(what).unwrap().into());
        request.extensions_mut().insert(Most(4_096));
        Body::from_request(request, &()).await.unwrap()
    }

    /// Everything that has to do with letting in, and the secrets that were said meanwhile.
    async fn all(house: House) -> Vec<String> {
        let from = || ConnectInfo(SocketAddr::from(([192, 168, 1, 9], 5_000)));
        let mut secrets = vec![PASSPHRASE.to_owned(), WRONG.to_owned()];
        for passphrase in [WRONG, PASSPHRASE] {
            let login_said = Login {
                passphrase: passphrase.to_owned(),
                name: Label::parse("Laptop").unwrap(),
            };
            let done = login(State(house.clone()), from(), said(&login_said).await).await;
            secrets.extend(done.ok().map(|answer| given(&answer)));
        }
        let (secret, code, now_ms) = ("a-secret-to-scan", "31415926", now_ms());
        let n = house.pairings().offer(Role::Barn, secret, code, now_ms);
        for typed in ["27182818", code] {
            let knock_said = Knock {
                secret: None,
                code: Some(typed.to_owned()),
                name: Label::parse("Barn 2").unwrap(),
            };
            let known = knock(State(house.clone()), from(), said(&knock_said).await).await;
            secrets.push(typed.to_owned());
            if let Ok(Json(Knocked { claim, .. })) = known {
                secrets.push(claim.clone());
                assert!(house.pairings().answer(n, true, now_ms));
                let done = finish(State(house.clone()), said(&Finish { claim }).await).await;
                secrets.push(given(&done.unwrap()));
            }
        }
        let shut = revoke(State(house), said(&Revoke { n: 2 }).await).await;
        assert!(shut.is_ok());
        secrets
    }

    /// The token in an answer's cookie.
    fn given(answer: &Response) -> String {
        let cookie = answer.headers()[SET_COOKIE].to_str().unwrap();
        let token = cookie.split(['=', ';']).nth(1).unwrap();
        assert_eq!(token.len(), 64);
        token.to_owned()
    }

    #[test]
    fn who_came_in_and_who_guessed_is_logged_without_secrets() {
        let store = Store::in_memory(birth().unwrap()).unwrap();
        store.set_owner(&hashed(PASSPHRASE).unwrap()).unwrap();
        let nowhere = Path::new("no such folder");
        let network = Network::of(nowhere, Said::default()).unwrap();
        let house = House::new(nowhere.to_owned(), store, network);
        let lines = Lines::default();
        let writer = lines.clone();
        let log = tracing_subscriber::fmt()
            .with_ansi(false)
            .with_writer(move || writer.clone())
            .finish();
        let runtime = tokio::runtime::Builder::new_current_thread()
            .build()
            .unwrap();
        let secrets = tracing::subscriber::with_default(log, || runtime.block_on(all(house)));
        let text = String::from_utf8(lines.0.lock().unwrap().clone()).unwrap();
        let told: Vec<_> = text.lines().collect();
        for (line, parts) in told.iter().zip([
            ["WARN", "a wrong passphrase", "from=192.168.1.9"],
            ["INFO", "a device was let in", "n=1"],
            ["WARN", "opens nothing", "from=192.168.1.9"],
            ["INFO", "a device was let in", "Barn 2"],
            ["INFO", "a device was shut out", "n=2"],
        ]) {
            assert!(
                parts.iter().all(|part| line.contains(part)),
                "{parts:?}: {line}"
            );
        }
        assert_eq!((told.len(), secrets.len()), (5, 7), "{text}");
        for secret in secrets {
            assert!(!text.contains(&secret), "{secret} is in {text}");
        }
    }
}
