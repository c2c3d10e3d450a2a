//! A headless Chromium behind its driver, with what WebDriver itself does not say: small screens, dark rooms, no script,
//! no network, paper.

use std::net::TcpListener;
use std::path::Path;
use std::process::Stdio;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use fantoccini::elements::Element;
use fantoccini::error::CmdError;
use fantoccini::wd::{Capabilities, WebDriverCompatibleCommand};
use fantoccini::{Client, ClientBuilder, Locator};
use http::Method;
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use tokio::process::{Child, Command};
use url::{ParseError, Url};

/// How often the browser is asked to print a page.
const PRINTS: usize = 5;
/// A print of so few bytes shows nothing.
pub const BLANK: usize = 1_000;

/// Programs by their usual names.
const DRIVERS: [&str; 2] = ["/usr/bin/chromedriver", "/usr/local/bin/chromedriver"];
const BROWSERS: [&str; 3] = [
    "/usr/bin/chromium",
    "/usr/bin/chromium-browser",
    "/usr/bin/google-chrome",
];

/// The longest wait for something to appear.
const PATIENCE: Duration = Duration::from_secs(10);

/// A browser.
#[derive(Debug)]
pub struct Browser {
    driver: Child,
    client: Client,
    /// Whether pages may run scripts.
    scripted: AtomicBool,
}

/// A command of the browser's own tools.
#[derive(Debug)]
struct Tool {
    name: &'static str,
    with: Value,
}

impl WebDriverCompatibleCommand for Tool {
    fn endpoint(&self, base_url: &Url, session_id: Option<&str>) -> Result<Url, ParseError> {
        let session = session_id.unwrap_or_default();
        base_url.join(&format!("session/{session}/goog/cdp/execute"))
    }

    fn method_and_body(&self, _: &Url) -> (Method, Option<String>) {
        let body = json!({ "cmd": self.name, "params": self.with });
        (Method::POST, Some(body.to_string()))
    }
}

impl Browser {
    /// Starts one; `None` when there is none on this machine.
    ///
    /// # Panics
    /// Panics when there is one and it does not start.
    pub async fn start() -> Option<Self> {
        let driver = DRIVERS.iter().find(|path| Path::new(path).exists())?;
        let browser = BROWSERS.iter().find(|path| Path::new(path).exists())?;
        let port = TcpListener::bind(("127.0.0.1", 0))
            .and_then(|listener| listener.local_addr())
            .expect("a port is free")
            .port();
        let driver = Command::new(driver)
            .arg(format!("--port={port}"))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .kill_on_drop(true)
            .spawn()
            .expect("the driver starts");
        let options = json!({
            "binary": browser,
            "args": ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars",
                     "--force-prefers-reduced-motion", "--lang=en-GB"],
        });
        let mut wanted = Capabilities::new();
        wanted.insert("goog:chromeOptions".into(), options);
        let address = format!("http://127.0.0.1:{port}");
        for _ in 0..100 {
            let made = ClientBuilder::new(HttpConnector::new())
                .capabilities(wanted.clone())
                .connect(&address)
                .await;
            if let Ok(client) = made {
                let scripted = AtomicBool::new(true);
                return Some(Self {
                    driver,
                    client,
                    scripted,
                });
            }
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
        panic!("the browser did not start");
    }

    async fn tool(&self, name: &'static str, with: Value) -> Value {
        let answer = self.client.issue_cmd(Tool { name, with }).await;
        answer.unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    /// A screen of that many pixels; below the width of a tablet it is one that is touched.
    pub async fn screen(&self, width: u32, height: u32) {
        let touched = width < 768;
        let with = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": touched });
        self.tool("Emulation.setDeviceMetricsOverride", with).await;
    }

    /// A dark room or a light one.
    pub async fn dark(&self, dark: bool) {
        let value = if dark { "dark" } else { "light" };
        let with = json!({ "features": [{ "name": "prefers-color-scheme", "value": value }] });
        self.tool("Emulation.setEmulatedMedia", with).await;
    }

    /// With or without script.
    pub async fn script(&self, on: bool) {
        self.scripted.store(on, Ordering::Relaxed);
        self.tool("Emulation.setScriptExecutionDisabled", json!({ "value": !on }))
            .await;
    }

    /// With or without a network.
    pub async fn network(&self, on: bool) {
        self.tool("Network.enable", json!({})).await;
        let with = json!({ "offline": !on, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1 });
        self.tool("Network.emulateNetworkConditions", with).await;
    }

    /// Goes to a page, and waits until it is laid out where scripts can tell.
    ///
    /// # Panics
    /// Panics when it cannot be shown.
    pub async fn goto(&self, address: &str) {
        self.client.goto(address).await.expect("the page can be shown");
        if self.scripted.load(Ordering::Relaxed) {
            self.until("document.readyState==='complete'").await;
            self.settled().await;
        }
    }

    /// The path of the page that is shown.
    ///
    /// # Panics
    /// Panics when nothing is shown.
    pub async fn path(&self) -> String {
        let url = self.client.current_url().await.expect("a page is shown");
        url.path().to_owned()
    }

    /// The element, when it is there in time.
    ///
    /// # Panics
    /// Panics when it is not.
    pub async fn find(&self, css: &str) -> Element {
        let wait = self.client.wait().at_most(PATIENCE);
        let found = wait.for_element(Locator::Css(css)).await;
        found.unwrap_or_else(|error| panic!("`{css}` is not on the page: {error}"))
    }

    /// Whether an element is there now.
    pub async fn has(&self, css: &str) -> bool {
        self.client.find(Locator::Css(css)).await.is_ok()
    }

    /// Taps an element.
    ///
    /// # Panics
    /// Panics when it cannot be tapped.
    pub async fn tap(&self, css: &str) {
        let mut tapped = self.tap_once(css).await;
        // A live page may put a new sheet in the place of the old one just now: a thumb meets what is there.
        for _ in 0..4 {
            if !tapped.as_ref().is_err_and(CmdError::is_stale_element_reference) {
                break;
            }
            tapped = self.tap_once(css).await;
        }
        tapped.unwrap_or_else(|error| panic!("`{css}` cannot be tapped: {error}"));
    }

    async fn tap_once(&self, css: &str) -> Result<(), CmdError> {
        let element = self.find(css).await;
        // Into the middle, as a thumb would have it: what stands fast at the edge lies over what is near it.
        let place = serde_json::to_value(&element).expect("an element has a name");
        let script = "arguments[0].scrollIntoView({block:'center'})";
        self.client.execute(script, vec![place]).await?;
        element.click().await
    }

    /// Taps an element that leads to another page, or to the same one anew, and waits until the old one is gone.
    ///
    /// # Panics
    /// Panics when it cannot be tapped, or nothing follows in time.
    pub async fn follow(&self, css: &str) {
        let old = self.find("html").await;
        self.tap(css).await;
        for _ in 0..200 {
            if old.tag_name().await.is_err() {
                return;
            }
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
        panic!("nothing follows a tap on `{css}`");
    }

    /// Waits until an expression of script is true.
    ///
    /// # Panics
    /// Panics when it does not become so in time.
    pub async fn until(&self, expression: &str) {
        let script = format!("return Boolean({expression})");
        for _ in 0..200 {
            if self.run(&script).await == Value::Bool(true) {
                return;
            }
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
        panic!("never true: {expression}");
    }

    /// The words of an element.
    ///
    /// # Panics
    /// Panics when it is not there.
    pub async fn text(&self, css: &str) -> String {
        let element = self.find(css).await;
        element.text().await.expect("an element on the page has words")
    }

    /// Runs a script in the page.
    ///
    /// # Panics
    /// Panics when the script does.
    pub async fn run(&self, script: &str) -> Value {
        let answer = self.client.execute(script, Vec::new()).await;
        answer.unwrap_or_else(|error| panic!("{script}: {error}"))
    }

    /// Runs a script that answers later; a strict policy allows tests no script in the page itself.
    ///
    /// # Panics
    /// Panics when the script does.
    pub async fn run_later(&self, script: &str) -> Value {
        let answer = self.client.execute_async(script, Vec::new()).await;
        answer.unwrap_or_else(|error| panic!("the script failed: {error}"))
    }

    /// Presses a key, as `Tab` or `Enter`.
    pub async fn press(&self, key: &str, code: u32) {
        let text = match key {
            "Enter" => "\r",
            " " => " ",
            _ => "",
        };
        let name = if key == " " { "Space" } else { key };
        for kind in ["keyDown", "keyUp"] {
            let with = json!({ "type": kind, "key": key, "code": name, "windowsVirtualKeyCode": code, "text": text });
            self.tool("Input.dispatchKeyEvent", with).await;
        }
    }

    /// The whole page as a picture.
    ///
    /// # Panics
    /// Panics when the picture cannot be written.
    pub async fn shot(&self, file: &Path) {
        let with = json!({ "format": "png", "captureBeyondViewport": true });
        let answer = self.tool("Page.captureScreenshot", with).await;
        write(file, &answer);
    }

    /// Waits until the page that is shown has its letters and has been laid out: what is measured before is chance.
    ///
    /// # Panics
    /// Panics when scripts are off.
    async fn settled(&self) {
        self.run_later(
            "const done=arguments[arguments.length-1];document.fonts.ready.then(()=>requestAnimationFrame(()=>requestAnimationFrame(()=>done(true))))",
        )
        .await;
    }

    /// The page on paper. A headless browser now and then refuses to print, or prints nothing, and does so when asked
    /// again. Returns how many bytes it printed.
    ///
    /// # Panics
    /// Panics when the browser refuses every time, or the file cannot be written.
    pub async fn print(&self, file: &Path, (width, height): (f64, f64)) -> usize {
        let name = "Page.printToPDF";
        let with = json!({ "preferCSSPageSize": false, "paperWidth": width, "paperHeight": height });
        let mut printed = None;
        for _ in 0..PRINTS {
            let with = with.clone();
            if let Ok(answer) = self.client.issue_cmd(Tool { name, with }).await {
                let bytes = write(file, &answer);
                printed = Some(bytes);
                if bytes > BLANK {
                    break;
                }
            }
            tokio::time::sleep(Duration::from_millis(300)).await;
        }
        printed.unwrap_or_else(|| panic!("{} cannot be printed", file.display()))
    }

    /// Ends browser and driver.
    pub async fn end(mut self) {
        // Whatever does not end by itself ends with its driver.
        let _ = self.client.close().await;
        let _ = self.driver.kill().await;
    }
}

fn write(file: &Path, answer: &Value) -> usize {
    let data = answer["data"].as_str().expect("the browser answers with data");
    let bytes = decoded(data);
    let folder = file.parent().expect("a file lies in a folder");
    std::fs::create_dir_all(folder).expect("the folder can be written");
    std::fs::write(file, &bytes).expect("the file can be written");
    bytes.len()
}

/// Base 64 as browsers write it.
fn decoded(text: &str) -> Vec<u8> {
    let value = |letter: u8| match letter {
        b'A'..=b'Z' => Some(letter - b'A'),
        b'a'..=b'z' => Some(letter - b'a' + 26),
        b'0'..=b'9' => Some(letter - b'0' + 52),
        b'+' => Some(62),
        b'/' => Some(63),
        _ => None,
    };
    let mut out = Vec::with_capacity(text.len() * 3 / 4);
    let (mut bits, mut count) = (0_u32, 0);
    for six in text.bytes().filter_map(value) {
        bits = bits << 6 | u32::from(six);
        count += 6;
        if count >= 8 {
            count -= 8;
            out.push(u8::try_from(bits >> count & 0xFF).expect("eight bits are a byte"));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn base_64_is_read() {
        assert_eq!(decoded("TWFu"), b"Man");
        assert_eq!(decoded("TWE="), b"Ma");
        assert_eq!(decoded("TQ=="), b"M");
    }
}
