//! The scanner in the app, before Chromium's fake camera: pictures of a tag as a hand would take
//! them go in as a video, the boar's page comes out.

use pentally_domain::code::Code;
use pentally_scanner::{Luma, read_still};
use pentally_server::tags::{Origin, svg};
use pentally_tests::browser::hands::mounted;
use pentally_tests::browser::{Office, Page, Phone, Standing, invented_barn};
use pentally_tests::camera::{Card, Shot, write_y4m};
use qrcode::{Color, QrCode};
use tempfile::TempDir;

#[tokio::test]
async fn a_blurred_tilted_dirty_tag_leads_to_the_boar_without_the_office() {
    let (mut office, standing) = invented_barn();
    let video = Video::of(&dirty(standing.code), |shot| Shot {
        yaw_deg: 30.0,
        blur_px: 1.5,
        ..shot
    });
    let phone = video.phone(&office).await;
    let page = pulled(&phone, &standing).await;
    page.kept_for_offline().await;
    office.kill();

    let page = phone.open("/today").await;
    mounted(&page).await;
    hold_tracks(&page).await;
    page.tap_words("This boar").await;
    page.shows("video.sight").await;
    leads_to(&page, &standing).await;
    page.comes_true(
        "tracks.length > 0 && tracks.every(t => t.readyState === 'ended')",
        "the camera stopped",
    )
    .await;
    page.has_no_complaints();
}

#[tokio::test]
async fn a_foreign_symbol_is_said_and_gives_way_to_the_tag_beside_it() {
    let (office, standing) = invented_barn();
    let foreign = symbol_of("https://feed.example/lot/7781?T=123450");
    let alone = Video::of(&Card::two(&foreign).unwrap(), |shot| shot);
    let phone = alone.phone(&office).await;
    let page = phone.open("/scan").await;
    page.sees("not from a pen tag").await;
    page.shows("video.sight").await;

    let tag = svg(&origin(), standing.code).unwrap();
    let beside = Video::of(&Card::both(&foreign, &tag).unwrap(), |shot| shot);
    let phone = beside.phone(&office).await;
    let page = phone.open("/scan").await;
    leads_to(&page, &standing).await;
}

#[tokio::test]
async fn the_camera_rests_while_the_page_is_hidden_or_left() {
    let (office, standing) = invented_barn();
    let wall = Video::of(&tag(standing.code), |shot| Shot {
        centre_mm: (2_000.0, 0.0),
        ..shot
    });
    let phone = wall.phone(&office).await;
    let page = phone.open("/today").await;
    mounted(&page).await;
    hold_tracks(&page).await;
    let on = |n: usize| format!("tracks.filter(t => t.readyState === 'live').length === {n}");
    page.tap_words("This boar").await;
    page.sees("a metre from the tag").await;
    page.comes_true(&on(1), "the camera is on").await;

    be_hidden(&page, true).await;
    page.comes_true(&on(0), "the camera is off while nobody looks")
        .await;
    be_hidden(&page, false).await;
    page.comes_true(&on(1), "the camera is on again").await;

    page.tap_words("Type the code").await;
    page.shows(".keypad").await;
    page.comes_true(&on(0), "the keypad needs no camera").await;
    page.tap_words("Camera").await;
    page.comes_true(&on(1), "the camera is one tap away").await;
    page.tap_words("Today").await;
    page.comes_true(&on(0), "the camera is off on another page")
        .await;
    page.has_no_complaints();
}

#[tokio::test]
async fn without_a_camera_the_keypad_leads_there() {
    let (office, standing) = invented_barn();
    let refused = vec![
        "--use-fake-device-for-media-stream",
        "--deny-permission-prompts",
    ];
    for (flags, says) in [
        (refused, "may not use the camera"),
        (vec![], "No camera was found"),
    ] {
        let phone = Phone::with_flags(&office, &flags).await;
        let page = phone.open("/scan").await;
        page.sees(says).await;
        page.tap_words("Type the code").await;
        page.sees("six digits").await;
        for digit in standing.code.digits().chars() {
            let key = digit.to_digit(10).filter(|n| *n > 0).unwrap_or(11);
            page.tap(&format!(".keys > :nth-child({key})")).await;
        }
        leads_to(&page, &standing).await;
        page.has_no_complaints();

        // The next scan of this visit begins where this one had to end.
        page.eval::<()>("history.back()").await;
        page.shows(".keypad").await;
    }
}

/// The boar's page, at the tag's address.
async fn leads_to(page: &Page, standing: &Standing) {
    let address = format!("location.pathname === '{}'", standing.code.path());
    page.comes_true(&address, "the tag's page opened").await;
    page.sees(&standing.number).await;
    page.shows(&format!("a[href^='/boar/{}']", standing.boar))
        .await;
}

/// A phone that knows the boar, and was never at his tag.
async fn pulled(phone: &Phone, standing: &Standing) -> Page {
    let page = phone.open(&format!("/boar/{}", standing.boar)).await;
    mounted(&page).await;
    page.sees(&standing.number).await;
    page
}

/// Keeps in `tracks` what the camera gives out from now on.
async fn hold_tracks(page: &Page) {
    let hold = "(() => {
        const media = navigator.mediaDevices;
        const ask = media.getUserMedia.bind(media);
        window.tracks = [];
        media.getUserMedia = async (wish) => {
            const stream = await ask(wish);
            tracks.push(...stream.getTracks());
            return stream;
        };
        return true;
    })()";
    assert!(page.eval::<bool>(hold).await);
}

/// What the browser says to the page when another app comes before it, or goes.
async fn be_hidden(page: &Page, hidden: bool) {
    let say = format!(
        "Object.defineProperty(document, 'hidden', {{ value: {hidden}, configurable: true }});
         document.dispatchEvent(new Event('visibilitychange'))"
    );
    assert!(page.eval::<bool>(&say).await);
}

/// Printed before the farm had its present address.
fn origin() -> Origin {
    Origin::parse("https://barn.example:8420").unwrap()
}

fn tag(code: Code) -> Card {
    Card::two(&svg(&origin(), code).unwrap()).unwrap()
}

/// The tag under splashes that left one of its two symbols whole enough. How often they do is
/// held in `tags.rs`; here the way from the camera to the page is tried.
fn dirty(code: Code) -> Card {
    let reads = |card: &Card| {
        let frame = Shot::by_hand(640, 480, 3.0, 1).of(card);
        let luma = Luma::of_rgba(&frame.rgba(), frame.width, frame.height).unwrap();
        read_still(&luma).is_some()
    };
    let mut splashed = (0..10).map(|seed| tag(code).dirty(0.05, seed));
    splashed.find(reads).unwrap()
}

/// What a camera sees for a second, over and over.
struct Video {
    folder: TempDir,
}

impl Video {
    /// A hand that trembles before the card, each frame a shot of its own.
    fn of(card: &Card, change: impl Fn(Shot) -> Shot) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let shot = |seed| change(Shot::by_hand(1280, 720, 4.0, seed)).of(card);
        let frames: Vec<_> = (0..6).map(shot).collect();
        write_y4m(&folder.path().join("camera.y4m"), &frames).unwrap();
        Self { folder }
    }

    /// A phone with this before its camera, whose person allowed it.
    async fn phone(&self, office: &Office) -> Phone {
        let file = self.folder.path().join("camera.y4m");
        let file = format!("--use-file-for-fake-video-capture={}", file.display());
        let flags = [
            "--use-fake-device-for-media-stream",
            "--use-fake-ui-for-media-stream",
            &file,
        ];
        Phone::with_flags(office, &flags).await
    }
}

/// Any text as a symbol, drawn as our tags are.
fn symbol_of(text: &str) -> String {
    const QUIET: usize = 4;
    let symbol = QrCode::new(text).unwrap();
    let side = symbol.width() + 2 * QUIET;
    let colors = symbol.to_colors();
    let dark = colors
        .iter()
        .enumerate()
        .filter(|(_, c)| **c == Color::Dark);
    let runs: String = dark
        .map(|(at, _)| (at % symbol.width() + QUIET, at / symbol.width() + QUIET))
        .map(|(x, y)| format!("M{x} {y}h1v1h-1z"))
        .collect();
    format!(
        r##"<svg width="74mm" viewBox="0 0 {side} {side}"><path fill="#000" d="{runs}"/></svg>"##
    )
}
