//! The acts of a cold kitchen, and what each does to a lot.

/// What a step does. The verb says how a yield below one is to be read: as water that left, or as
/// substance cut away.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Verb {
    /// Take delivery: count, weigh, temperature, lot.
    Receive,
    /// Take the fillets off, pin-bone.
    Fillet,
    /// Trim, peel, core, pick: cut away what is not used.
    Trim,
    /// Cut or slice to size.
    Cut,
    /// Weigh out and mix.
    Mix,
    /// Rub with a measured cure mix and rest.
    DryCure,
    /// Lay under a cover brine.
    Brine,
    /// Inject a pump pickle.
    Pump,
    /// Take out of cure or brine, rinse, dry.
    Rinse,
    /// Dry the surface in moving cold air until tacky.
    AirDry,
    /// Smoke and cook.
    HotSmoke,
    /// Smoke without cooking.
    ColdSmoke,
    /// Hang to lose weight.
    Hang,
    /// Cook without smoke, bake, simmer.
    Cook,
    /// Bring down to cold.
    Chill,
    /// Boil or warm a liquor.
    Brew,
    /// Put under a pickle liquor.
    Pickle,
    /// Leave in oil, liquor or water to give its taste.
    Steep,
    /// Beat into an emulsion.
    Emulsify,
    /// Skin, flake, slice or carve what is ready to eat.
    Carve,
    /// Wash leaves.
    Wash,
    /// Strain.
    Strain,
    /// Hold, check, label, clean: nothing happens to the lot.
    Keep,
}

/// Where the mass goes that a yield below one takes away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loses {
    /// Only water leaves; salt, sugar, protein and fat stay.
    Water,
    /// The lot is cut down and keeps its composition.
    Substance,
}

impl Verb {
    /// Words of the book, in the order of the type.
    pub const ALL: &'static [(&'static str, Self)] = &[
        ("receive", Self::Receive),
        ("fillet", Self::Fillet),
        ("trim", Self::Trim),
        ("cut", Self::Cut),
        ("mix", Self::Mix),
        ("dry-cure", Self::DryCure),
        ("brine", Self::Brine),
        ("pump", Self::Pump),
        ("rinse", Self::Rinse),
        ("air-dry", Self::AirDry),
        ("hot-smoke", Self::HotSmoke),
        ("cold-smoke", Self::ColdSmoke),
        ("hang", Self::Hang),
        ("cook", Self::Cook),
        ("chill", Self::Chill),
        ("brew", Self::Brew),
        ("pickle", Self::Pickle),
        ("steep", Self::Steep),
        ("emulsify", Self::Emulsify),
        ("carve", Self::Carve),
        ("wash", Self::Wash),
        ("strain", Self::Strain),
        ("keep", Self::Keep),
    ];

    /// The verb with this word.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(w, _)| *w == word).map(|(_, v)| *v)
    }

    /// The word of this verb.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(_, v)| *v == self)
            .map_or("", |(w, _)| w)
    }

    /// What a yield below one means for this verb, unless the step says otherwise.
    #[must_use]
    pub const fn loses(self) -> Loses {
        match self {
            Self::DryCure
            | Self::Brine
            | Self::Pump
            | Self::Rinse
            | Self::AirDry
            | Self::HotSmoke
            | Self::ColdSmoke
            | Self::Hang
            | Self::Cook
            | Self::Chill
            | Self::Brew => Loses::Water,
            _ => Loses::Substance,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_leads_back_to_its_verb() {
        for (word, verb) in Verb::ALL {
            assert_eq!(Verb::find(word), Some(*verb));
            assert_eq!(verb.word(), *word);
        }
    }
}
