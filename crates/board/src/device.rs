//! What this device remembers: who wrote something down on it last.

use axum::http::{HeaderMap, HeaderValue, header};

use crate::address::{Query, encoded};

/// The cookie's name.
const WHO: &str = "who";
/// How long a name is remembered, seconds: a term.
const TERM_S: u32 = 120 * 24 * 3600;

/// The name this device was last used by.
pub(crate) fn remembered(headers: &HeaderMap) -> Option<String> {
    let cookies = headers.get(header::COOKIE)?.to_str().ok()?;
    let pairs = cookies.replace("; ", "&");
    Query::read(Some(&pairs)).first(WHO).map(str::to_owned)
}

/// The header that has this device remember a name; none where the name cannot be written into one.
pub(crate) fn remember(who: &str) -> Option<HeaderValue> {
    let cookie = format!(
        "{WHO}={}; Path=/; Max-Age={TERM_S}; SameSite=Strict; HttpOnly",
        encoded(who)
    );
    HeaderValue::from_str(&cookie).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_comes_back_as_it_was_written() {
        let set = remember("Maren & Jo; Zoë").unwrap();
        let pair = set.to_str().unwrap().split(';').next().unwrap().to_owned();
        let mut headers = HeaderMap::new();
        headers.insert(header::COOKIE, format!("a=b; {pair}").parse().unwrap());
        assert_eq!(remembered(&headers).as_deref(), Some("Maren & Jo; Zoë"));
        assert_eq!(remembered(&HeaderMap::new()), None);
    }
}
