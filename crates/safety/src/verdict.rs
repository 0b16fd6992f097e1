//! The three verdicts, and no fourth.

/// What the evidence says about a limit. Ordered from worst.
///
/// A missing reading is *not shown*, never a pass; a limit that was not read itself can make a
/// verdict *broken*, never *shown*.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// The evidence fails the limit.
    Broken,
    /// The evidence is missing, or the limit's own text was not read.
    NotShown,
    /// The evidence meets the limit, and the limit's text was read.
    Shown,
}

impl Verdict {
    /// The word printed.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Broken => "broken",
            Self::NotShown => "not shown",
            Self::Shown => "shown",
        }
    }

    /// The worst of several; *not shown* when there is none to go by.
    #[must_use]
    pub fn worst(verdicts: impl IntoIterator<Item = Self>) -> Self {
        verdicts.into_iter().min().unwrap_or(Self::NotShown)
    }
}

impl std::fmt::Display for Verdict {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.word())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_broken_verdict_breaks_the_lot() {
        assert_eq!(
            Verdict::worst([Verdict::Shown, Verdict::Broken, Verdict::NotShown]),
            Verdict::Broken
        );
        assert_eq!(Verdict::worst([]), Verdict::NotShown);
        assert!(Verdict::Broken < Verdict::NotShown && Verdict::NotShown < Verdict::Shown);
    }
}
