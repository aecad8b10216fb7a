//! What a page complains of: uncaught errors and error lines of its console.

use chromiumoxide::Page;
use chromiumoxide::cdp::js_protocol::runtime::{
    ConsoleApiCalledType, EventConsoleApiCalled, EventExceptionThrown, RemoteObject,
};
use futures::StreamExt;
use std::sync::{Arc, Mutex, PoisonError};

/// The complaints so far.
#[derive(Clone, Debug, Default)]
pub struct Complaints(Arc<Mutex<Vec<String>>>);

impl Complaints {
    /// Listens to a page until it closes.
    pub async fn of(page: &Page) -> Self {
        let heard = Self::default();
        let mut thrown = page
            .event_listener::<EventExceptionThrown>()
            .await
            .expect("the page tells of uncaught errors");
        let mut logged = page
            .event_listener::<EventConsoleApiCalled>()
            .await
            .expect("the page tells of its console");
        page.enable_runtime().await.expect("the page has a console");
        let (first, second) = (heard.clone(), heard.clone());
        tokio::spawn(async move {
            while let Some(event) = thrown.next().await {
                let details = &event.exception_details;
                let object = details.exception.as_ref().map(said).unwrap_or_default();
                first.add(format!("{} {object}", details.text));
            }
        });
        tokio::spawn(async move {
            while let Some(event) = logged.next().await {
                if event.r#type == ConsoleApiCalledType::Error {
                    second.add(event.args.iter().map(said).collect::<Vec<_>>().join(" "));
                }
            }
        });
        heard
    }

    /// A copy of what was heard.
    pub fn heard(&self) -> Vec<String> {
        self.0
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .clone()
    }

    fn add(&self, line: String) {
        self.0
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .push(line);
    }
}

fn said(object: &RemoteObject) -> String {
    match (&object.description, &object.value) {
        (Some(description), _) => description.clone(),
        (None, Some(value)) => value
            .as_str()
            .map_or_else(|| value.to_string(), str::to_owned),
        (None, None) => String::new(),
    }
}
