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
    may_guess(&house, from)?;
    if !is_owner(&house, asked.passphrase).await? {
        let says =
            "this is not the owner's passphrase; `pentally owner` on the machine sets another";
        return Err(Problem::new(GONE, says).coded(Code::NotTheOwner));
    }
    house.tries().give_back(from.ip());
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
    paired(State(house)).await
}

/// Whether this is the owner's passphrase. Slow on purpose; never more than two at once.
pub(super) async fn is_owner(house: &House, passphrase: String) -> Result<bool, Problem> {
    let hash = house.with_own(crate::store::Store::owner).await?;
    let Some(hash) = hash else { return Ok(false) };
    let _turn = house.slow_turn().await;
    Ok(tokio::task::spawn_blocking(move || matches(&passphrase, &hash)).await?)
}

fn may_guess(house: &House, from: SocketAddr) -> Result<(), Problem> {
    if house.tries().take(from.ip(), now_ms()) {
        return Ok(());
    }
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
    house
        .with_own(move |store| store.let_in(&hash, name.clone(), role, now_ms()))
        .await?;
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
