//! One tab: what a hand does to it and what an eye sees on it.

use super::finger::Finger;
use super::watch::Complaints;
use super::{root, wait};
use chromiumoxide::browser::Browser;
use chromiumoxide::cdp::browser_protocol::emulation::{
    SetCpuThrottlingRateParams, SetDeviceMetricsOverrideParams, SetEmulatedMediaParams,
    SetTouchEmulationEnabledParams,
};
use chromiumoxide::cdp::browser_protocol::input::InsertTextParams;
use chromiumoxide::cdp::browser_protocol::network::{
    ClearBrowserCacheParams, EmulateNetworkConditionsByRuleParams, NetworkConditions,
    OverrideNetworkStateParams,
};
use chromiumoxide::cdp::browser_protocol::page::{
    AddScriptToEvaluateOnNewDocumentParams, CaptureScreenshotFormat, NavigateParams,
};
use chromiumoxide::cdp::browser_protocol::storage::{
    ClearDataForOriginParams, OverrideQuotaForOriginParams,
};
use chromiumoxide::cdp::browser_protocol::target::SetAutoAttachParams;
use chromiumoxide::cdp::js_protocol::runtime::EvaluateParams;
use chromiumoxide::page::ScreenshotParams;
use chromiumoxide::types::Command;
use serde::de::DeserializeOwned;
use std::path::PathBuf;

/// What a page that hoped in vain says of its service workers and of what they keep.
const WORKERS: &str = "(async () => {
    const state = worker => worker?.state ?? null;
    const registrations = (await navigator.serviceWorker?.getRegistrations()) ?? [];
    const kept = await Promise.all((await caches.keys())
        .map(async name => [name, (await (await caches.open(name)).keys()).length]));
    return JSON.stringify({ controller: state(navigator.serviceWorker?.controller),
        registered: registrations.map(r => ({ active: state(r.active),
            waiting: state(r.waiting), installing: state(r.installing) })), kept });
})()";

/// A tab of a phone of 360×640 CSS px with a touch screen.
#[derive(Debug)]
pub struct Page {
    tab: chromiumoxide::Page,
    origin: String,
    complaints: Complaints,
}

impl Page {
    pub(super) async fn new(browser: &Browser, origin: String) -> Self {
        let tab = browser
            .new_page("about:blank")
            .await
            .expect("a tab can be opened");
        let complaints = Complaints::of(&tab).await;
        let page = Self {
            tab,
            origin,
            complaints,
        };
        // The library would halt each service worker at its start to look at it, and
        // at times forgets to let it go on.
        page.send(SetAutoAttachParams::new(false, false)).await;
        page.be_sized(360, 640, true).await;
        page
    }

    /// The size of the screen in CSS px: a phone's with touch, or an office's without.
    pub async fn be_sized(&self, width: u32, height: u32, touch: bool) {
        let scale = if touch { 2.0 } else { 1.0 };
        let size = SetDeviceMetricsOverrideParams::new(width, height, scale, touch);
        self.send(size).await;
        self.send(SetTouchEmulationEnabledParams::new(touch)).await;
    }

    /// Goes to a path of the office; an answer of any kind will do, none will not.
    pub async fn goto(&self, path: &str) {
        let address = format!("{}{path}", self.origin);
        if let Some(why) = self.is_refused(&address).await {
            panic!("{address} did not open: {why}");
        }
    }

    /// Goes to any address; why the browser did not open it, if so.
    pub async fn is_refused(&self, address: &str) -> Option<String> {
        self.send(NavigateParams::new(address)).await.error_text
    }

    /// Loads the page again.
    pub async fn reload(&self) {
        let path: String = self.eval("location.pathname + location.search").await;
        self.goto(&path).await;
    }

    /// Runs a script before those of each page that opens from now on.
    pub async fn run_on_load(&self, script: &str) {
        self.send(AddScriptToEvaluateOnNewDocumentParams::new(script))
            .await;
    }

    /// Waits until something matches the selector and shows.
    pub async fn shows(&self, selector: &str) {
        let shown = format!("!!document.querySelector({selector:?})?.checkVisibility()");
        self.comes_true(&shown, &format!("`{selector}` shows"))
            .await;
    }

    /// Waits until nothing matches the selector any more.
    pub async fn shows_no(&self, selector: &str) {
        let gone = format!("!document.querySelector({selector:?})?.checkVisibility()");
        self.comes_true(&gone, &format!("`{selector}` is gone"))
            .await;
    }

    /// Waits until the words stand on the page.
    pub async fn sees(&self, words: &str) {
        let seen = format!("!!document.body?.innerText.includes({words:?})");
        self.comes_true(&seen, &format!("\"{words}\" is on the page"))
            .await;
    }

    /// Waits until a script's expression is true; `hope` names it when it never is.
    pub async fn comes_true(&self, expression: &str, hope: &str) {
        // An error while the next page loads is no answer yet.
        let look = async || match self.try_eval::<bool>(expression).await {
            Ok(true) => Some(()),
            _ => None,
        };
        if wait::until(look).await.is_none() {
            self.hoped_in_vain(hope).await;
        }
    }

    /// Waits until the service worker controls this page and has its whole set: the barn's screens, and
    /// those of bench and office, which it fetches behind them.
    pub async fn kept_for_offline(&self) {
        const CONTROLS: &str = "navigator.serviceWorker?.controller?.state === 'activated'";
        const KEPT: &str = "caches.keys().then(([name]) => caches.open(name)).then(c => c.keys())
            .then(all => ['/office-wasm-', '/office-js-'].every(f => all.some(kept => kept.url.includes(f))))";
        self.comes_true(CONTROLS, "a service worker controls the page")
            .await;
        self.comes_true(KEPT, "the screens of bench and office are kept")
            .await;
    }

    /// The text of the first match, as shown.
    pub async fn text_of(&self, selector: &str) -> String {
        self.shows(selector).await;
        self.eval(&format!("document.querySelector({selector:?}).innerText"))
            .await
    }

    /// A finger on the middle of the first match; fails when something lies over it.
    pub async fn tap(&self, selector: &str) {
        self.shows(selector).await;
        self.tap_what(&format!("document.querySelector({selector:?})"), selector)
            .await;
    }

    /// A finger on the button or link that says these words.
    pub async fn tap_words(&self, words: &str) {
        let found = format!(
            "[...document.querySelectorAll('button, a, [role=button], label, summary')]\
             .find(e => e.checkVisibility() && !e.disabled && e.innerText.includes({words:?}))"
        );
        self.comes_true(&format!("!!{found}"), &format!("\"{words}\" can be tapped"))
            .await;
        self.tap_what(&found, words).await;
    }

    /// Puts the cursor into a field and types.
    pub async fn type_into(&self, selector: &str, text: &str) {
        self.tap(selector).await;
        self.send(InsertTextParams::new(text)).await;
    }

    /// A script's value; promises are awaited.
    pub async fn eval<T: DeserializeOwned>(&self, script: &str) -> T {
        match self.try_eval(script).await {
            Ok(value) => value,
            Err(why) => panic!("{script}: {why}"),
        }
    }

    /// What the page complained of so far: uncaught errors, console errors.
    pub fn complaints(&self) -> Vec<String> {
        self.complaints.heard()
    }

    /// Fails when the page complained.
    pub fn has_no_complaints(&self) {
        let heard = self.complaints();
        assert!(heard.is_empty(), "the page complained: {heard:#?}");
    }

    /// Cuts this tab off the network, or connects it again. The service worker's own
    /// requests go on: for them, kill the office.
    pub async fn be_offline(&self, offline: bool) {
        let all = NetworkConditions::builder().url_pattern("").latency(0.0);
        let all = all
            .download_throughput(-1.0)
            .upload_throughput(-1.0)
            .build();
        let all = all.expect("all that is asked for is given");
        self.send(EmulateNetworkConditionsByRuleParams::new(
            offline,
            vec![all],
        ))
        .await;
        self.send(OverrideNetworkStateParams::new(offline, 0.0, -1.0, -1.0))
            .await;
    }

    /// Makes the processor this many times slower.
    pub async fn slow_down(&self, times: f64) {
        self.send(SetCpuThrottlingRateParams::new(times)).await;
    }

    /// Shows the page as printed (`print`), or as on screen (an empty word).
    pub async fn be_medium(&self, medium: &str) {
        self.send(SetEmulatedMediaParams::builder().media(medium).build())
            .await;
    }

    /// Deletes all that the phone stores for the office, under the live page.
    pub async fn lose_storage(&self) {
        self.send(ClearDataForOriginParams::new(self.origin.clone(), "all"))
            .await;
    }

    /// Leaves the phone so many bytes for all that it stores for the office, or as many as it likes.
    pub async fn have_room(&self, bytes: Option<f64>) {
        let mut quota = OverrideQuotaForOriginParams::new(self.origin.clone());
        quota.quota_size = bytes;
        self.send(quota).await;
    }

    /// Lays a picture into `target/screens/NAME.png`: of the whole page if `whole`.
    pub async fn picture(&self, name: &str, whole: bool) -> PathBuf {
        let dir = root().join("target/screens");
        std::fs::create_dir_all(&dir).expect("the folder of pictures can be made");
        let path = dir.join(format!("{name}.png"));
        let wanted = ScreenshotParams::builder().format(CaptureScreenshotFormat::Png);
        let wanted = wanted.full_page(whole).build();
        self.tab
            .save_screenshot(wanted, &path)
            .await
            .expect("a picture can be taken");
        path
    }

    /// Forgets what the browser keeps beside the service worker's own files.
    pub async fn forget_what_was_fetched(&self) {
        self.send(ClearBrowserCacheParams::default()).await;
    }

    /// Closes the tab.
    pub async fn close(self) {
        self.tab.close().await.expect("the tab is open");
    }

    async fn tap_what(&self, element: &str, name: &str) {
        let aim = format!(
            "(() => {{ const e = {element}; e.scrollIntoView({{ block: 'center' }});
              const r = e.getBoundingClientRect();
              const [x, y] = [r.x + r.width / 2, r.y + r.height / 2];
              const hit = document.elementFromPoint(x, y);
              const over = hit && (e.contains(hit) || hit.contains(e)) ? '' : hit?.outerHTML ?? 'nothing';
              return [x, y, over]; }})()"
        );
        let (x, y, over): (f64, f64, String) = self.eval(&aim).await;
        assert!(over.is_empty(), "a finger on {name} would meet {over}");
        self.send(Finger::down(x, y)).await;
        self.send(Finger::up()).await;
    }

    async fn try_eval<T: DeserializeOwned>(&self, script: &str) -> Result<T, String> {
        let asked = EvaluateParams::builder().expression(script);
        let asked = asked
            .await_promise(true)
            .return_by_value(true)
            .user_gesture(true)
            .build()?;
        let answer = self
            .tab
            .execute(asked)
            .await
            .map_err(|why| why.to_string())?
            .result;
        if let Some(thrown) = answer.exception_details {
            let object = thrown.exception.and_then(|object| object.description);
            return Err(object.unwrap_or(thrown.text));
        }
        let value = answer.result.value.unwrap_or_default();
        serde_json::from_value(value).map_err(|why| why.to_string())
    }

    async fn send<C: Command>(&self, command: C) -> C::Response {
        let name = command.identifier();
        let sent = self.tab.execute(command).await;
        sent.unwrap_or_else(|why| panic!("Chromium refused {name}: {why}"))
            .result
    }

    async fn hoped_in_vain(&self, hope: &str) -> ! {
        let path: String = self.try_eval("location.pathname").await.unwrap_or_default();
        let text: String = self
            .try_eval("document.body.innerText")
            .await
            .unwrap_or_default();
        let workers: String = self.try_eval(WORKERS).await.unwrap_or_else(|why| why);
        let thread = std::thread::current();
        let name = thread.name().unwrap_or("test").replace("::", "-");
        let picture = self.picture(&format!("failed-{name}"), false).await;
        panic!(
            "Not within {} s: {hope}.\nAt {path} the page says:\n{text}\nIt complained: {:#?}\nIts workers: {workers}\nSee {}",
            wait::LIMIT.as_secs(),
            self.complaints(),
            picture.display(),
        )
    }
}
