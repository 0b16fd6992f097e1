//! A board everybody signs in to, with a clock and a chance of its own, and browsers that hold a cookie. All names
//! are invented.

#![allow(dead_code, reason = "each test binary uses its own part")]

use std::net::IpAddr;
use std::sync::{Arc, Mutex};

use axum::body::{Body, to_bytes};
use axum::extract::ConnectInfo;
use axum::http::{HeaderMap, Request, StatusCode, header};
use board::{Access, Bench, Board, Chance, Clock, Ends, Field, NoChance, Question, router};
use jiff::{SignedDuration, Timestamp};
use plan::ask::{Answer, Refusal};
use store::{AddPerson, Entry, LogOf, Moment, Name, Role, Store};
use tower::ServiceExt;

pub(crate) const PASSPHRASE: &str = "five char in the brine";
pub(crate) const HOST: &str = "board.local:4780";
pub(crate) const RECORD: &str = "/event/harvest-supper/record";

/// A clock that is moved by hand; it begins at noon of the smoking day of the demo supper.
#[derive(Clone)]
struct Hand(Arc<Mutex<Timestamp>>);

impl Clock for Hand {
    fn now(&self) -> Timestamp {
        *self.0.lock().unwrap()
    }
}

/// A chance that counts, and keeps what it gave out last.
#[derive(Clone, Default)]
struct Counting(Arc<Mutex<Vec<Vec<u8>>>>);

impl Chance for Counting {
    fn fill(&self, bytes: &mut [u8]) -> Result<(), NoChance> {
        let mut given = self.0.lock().unwrap();
        let n = u64::try_from(given.len()).unwrap() + 1;
        for (i, b) in bytes.iter_mut().enumerate() {
            *b = n.to_le_bytes()[i % 8].wrapping_add(u8::try_from(i % 251).unwrap());
        }
        given.push(bytes.to_vec());
        Ok(())
    }
}

/// Two questions, one of them of money, refused with what was sent.
struct Echo(Vec<Question>);

impl Bench for Echo {
    fn questions(&self) -> &[Question] {
        &self.0
    }
    fn answer(&self, _: &str, entries: &[(String, String)]) -> Result<Answer, Refusal> {
        Err(Refusal::new(
            format!("found {entries:?}"),
            "a number",
            "write one",
        ))
    }
}

fn question(word: &str) -> Question {
    Question {
        word: word.to_owned(),
        about: "How much".to_owned(),
        fields: vec![Field {
            name: "for".to_owned(),
            help: "weight".to_owned(),
            hint: if word == "worth" { "$9.00" } else { "500 g" }.to_owned(),
            default: None,
            choices: Vec::new(),
            required: true,
            many: false,
            flag: false,
        }],
    }
}

/// The board and what a test may look at beside its pages.
pub(crate) struct Kitchen {
    pub(crate) app: axum::Router,
    pub(crate) store: Store,
    clock: Hand,
    chance: Counting,
}

impl Kitchen {
    pub(crate) fn open() -> Self {
        Self::on(Store::in_memory().unwrap())
    }

    /// On a record that may have its instructor already.
    pub(crate) fn on(store: Store) -> Self {
        Self::with(store, |chance| {
            Access::signed_in(chance, vec!["board.local".to_owned()])
        })
    }

    /// For this machine alone: nobody signs in.
    pub(crate) fn alone() -> Self {
        Self::with(Store::in_memory().unwrap(), |chance| {
            Access::this_machine(chance).unwrap()
        })
    }

    fn with(store: Store, access: impl FnOnce(Box<dyn Chance>) -> Access) -> Self {
        let book = book::read(&book::demo::files(), book::Limits::default()).unwrap();
        let clock = Hand(Arc::new(Mutex::new(
            "2027-10-06T16:10:00Z".parse().unwrap(),
        )));
        let chance = Counting::default();
        let maren = AddPerson {
            name: Name::new("Maren").unwrap(),
            role: Role::Instructor,
            password: Some(board::passphrase::hashed(PASSPHRASE, &chance).unwrap()),
            at: Moment::new(clock.now(), "UTC").unwrap(),
        };
        store.ask(maren).unwrap();
        let bench = Echo(vec![question("salt"), question("worth")]);
        let board = Board::new(
            book,
            Box::new(bench),
            Box::new(clock.clone()),
            store.clone(),
            true,
        )
        .behind(access(Box::new(chance.clone())));
        Self {
            app: router(Arc::new(board)),
            store,
            clock,
            chance,
        }
    }

    pub(crate) fn later(&self, seconds: i64) {
        let mut now = self.clock.0.lock().unwrap();
        *now += SignedDuration::from_secs(seconds);
    }

    /// A browser on a device of its own.
    pub(crate) fn browser(&self, address: &str) -> Browser<'_> {
        Browser {
            kitchen: self,
            address: address.parse().unwrap(),
            cookie: None,
        }
    }

    pub(crate) async fn instructor(&self) -> Browser<'_> {
        let mut maren = self.browser("192.168.1.2");
        let answer = maren
            .send("/sign-in", &[("name", "Maren"), ("passphrase", PASSPHRASE)])
            .await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.page);
        maren
    }

    /// A sign-in given by the instructor: its token and its number.
    pub(crate) async fn given(
        &self,
        maren: &Browser<'_>,
        name: &str,
        role: &str,
    ) -> (String, String) {
        let before = self.chance.0.lock().unwrap().len();
        let form = [("name", name), ("station", "cold bench"), ("role", role)];
        let answer = maren.form("/people", "/people", &form).await;
        assert_eq!(answer.status, StatusCode::OK, "{}", answer.page);
        let token = self.chance.0.lock().unwrap()[before].clone();
        let token: String = token.iter().map(|b| format!("{b:02x}")).collect();
        assert!(!answer.page.contains(&token), "only the square holds it");
        let number = answer.page.split("class=\"big\">").nth(1).unwrap();
        let number = number.split('<').next().unwrap().replace(' ', "");
        assert_eq!(number.len(), 6, "{number}");
        (token, number)
    }

    /// Somebody signed in by number.
    pub(crate) async fn somebody(&self, name: &str, role: &str, address: &str) -> Browser<'_> {
        let maren = self.instructor().await;
        let (_, number) = self.given(&maren, name, role).await;
        let mut browser = self.browser(address);
        let answer = browser
            .send("/sign-in", &[("name", name), ("pin", &number)])
            .await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.page);
        browser
    }

    pub(crate) fn log(&self) -> Vec<Entry> {
        self.store.ask(LogOf::all()).unwrap()
    }
}

/// What came back.
pub(crate) struct Answered {
    pub(crate) status: StatusCode,
    pub(crate) page: String,
    pub(crate) headers: HeaderMap,
}

/// A browser: a device with an address and a cookie.
#[derive(Clone)]
pub(crate) struct Browser<'a> {
    kitchen: &'a Kitchen,
    pub(crate) address: IpAddr,
    pub(crate) cookie: Option<String>,
}

pub(crate) fn written(form: &[(&str, &str)]) -> String {
    form.iter()
        .map(|(n, v)| {
            let v: String = v.bytes().map(|b| format!("%{b:02X}")).collect();
            format!("{n}={v}")
        })
        .collect::<Vec<_>>()
        .join("&")
}

impl Browser<'_> {
    pub(crate) async fn ask(&self, mut request: Request<Body>) -> Answered {
        let ends = Ends {
            here: Some("192.168.1.5".parse().unwrap()),
            there: Some(self.address),
        };
        request.extensions_mut().insert(ConnectInfo(ends));
        let headers = request.headers_mut();
        headers.entry(header::HOST).or_insert(HOST.parse().unwrap());
        if let Some(cookie) = &self.cookie {
            let cookie = format!("saltern-session={cookie}").parse().unwrap();
            headers.entry(header::COOKIE).or_insert(cookie);
        }
        let response = self.kitchen.app.clone().oneshot(request).await.unwrap();
        let (parts, body) = response.into_parts();
        let bytes = to_bytes(body, 32 << 20).await.unwrap();
        Answered {
            status: parts.status,
            page: String::from_utf8_lossy(&bytes).into_owned(),
            headers: parts.headers,
        }
    }

    pub(crate) async fn get(&self, page: &str) -> Answered {
        self.ask(Request::get(page).body(Body::empty()).unwrap())
            .await
    }

    /// Sends exactly this, and keeps the cookie that comes back.
    pub(crate) async fn send(&mut self, to: &str, form: &[(&str, &str)]) -> Answered {
        let answer = self.post(to, form).await;
        if let Some(cookie) = answer.headers.get(header::SET_COOKIE) {
            let value = cookie.to_str().unwrap().split(';').next().unwrap();
            let value = value.strip_prefix("saltern-session=").unwrap();
            self.cookie = (!value.is_empty()).then(|| value.to_owned());
        }
        answer
    }

    pub(crate) async fn post(&self, to: &str, form: &[(&str, &str)]) -> Answered {
        let request = Request::post(to)
            .header("sec-fetch-site", "same-origin")
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
        self.ask(request.body(Body::from(written(form))).unwrap())
            .await
    }

    /// The token the forms of a page carry.
    pub(crate) async fn token(&self, page: &str) -> String {
        let page = self.get(page).await.page;
        let rest = page
            .split("name=\"form-token\" value=\"")
            .nth(1)
            .unwrap_or_else(|| panic!("no token in {page}"));
        rest.split('"').next().unwrap().to_owned()
    }

    /// Fills a form in on its page and sends it.
    pub(crate) async fn form(&self, page: &str, to: &str, form: &[(&str, &str)]) -> Answered {
        let token = self.token(page).await;
        let form: Vec<(&str, &str)> = form
            .iter()
            .copied()
            .chain([("form-token", token.as_str())])
            .collect();
        self.post(to, &form).await
    }
}

/// Addresses a page leads to.
pub(crate) fn links(page: &str) -> Vec<String> {
    page.split("href=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .filter(|a| a.starts_with('/'))
        .map(|a| a.replace("&amp;", "&"))
        .collect()
}

/// An entry that is whole, but for who says so.
pub(crate) fn reading(id: &str) -> Vec<(&str, &str)> {
    vec![
        ("id", id),
        ("kind", "temperature"),
        ("about", "hot-smoked-char.smoke"),
        ("part", "probe 1"),
        ("reading", "63.4 °C"),
    ]
}
