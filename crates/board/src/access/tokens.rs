//! The token every form carries back: proof that it was filled in on a page of this board, in this session.

use maud::{Markup, PreEscaped};

/// The field it is sent in; no page's own field has this name, and no page sees it.
pub(crate) const FIELD: &str = "form-token";
/// The header a script may send it in.
pub(crate) const HEADER: &str = "x-form-token";

/// A page with the token in each of its forms that send something. It is put in here, for all pages, so that no form
/// can be written without it. Only tags can hold a `<`: what people typed is escaped.
pub(crate) fn in_every_form(page: Markup, token: Option<&str>) -> Markup {
    let Some(token) = token else {
        return page;
    };
    let mut parts = page.0.split("<form");
    let mut out = parts.next().unwrap_or("").to_owned();
    for part in parts {
        out.push_str("<form");
        match part.split_once('>') {
            Some((tag, rest)) if tag.contains("method=\"post\"") => {
                out.push_str(&format!(
                    "{tag}><input type=\"hidden\" name=\"{FIELD}\" value=\"{token}\">{rest}"
                ));
            }
            _ => out.push_str(part),
        }
    }
    PreEscaped(out)
}

#[cfg(test)]
mod tests {
    use maud::html;

    use super::*;

    #[test]
    fn only_forms_that_send_carry_it() {
        let page = html! {
            form method="get" { "a" }
            form class="x" method="post" action="/p?a=1>2" { "b" }
            p { "<form method=\"post\">" }
        };
        let with = in_every_form(page.clone(), Some("t1")).0;
        assert_eq!(with.matches("t1").count(), 1, "{with}");
        assert!(with.contains(
            "action=\"/p?a=1&gt;2\"><input type=\"hidden\" name=\"form-token\" value=\"t1\">b"
        ));
        assert_eq!(in_every_form(page.clone(), None).0, page.0);
    }
}
