//! Units a cook asks for, and the words for them.

/// The unit wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Grams.
    Gram,
    /// Kilograms.
    Kilogram,
    /// Ounces by weight.
    Ounce,
    /// Pounds.
    Pound,
    /// Millilitres.
    Millilitre,
    /// Litres.
    Litre,
    /// US cups.
    Cup,
    /// US fluid ounces.
    FluidOunce,
    /// US tablespoons.
    Tablespoon,
    /// US teaspoons.
    Teaspoon,
    /// °C.
    Celsius,
    /// °F.
    Fahrenheit,
    /// Millimetres.
    Millimetre,
    /// Inches.
    Inch,
    /// Salometer degrees.
    Salometer,
    /// Percent.
    Percent,
}

impl Unit {
    /// Every unit with the words it is asked for by; the first is printed.
    pub const WORDS: &'static [(Self, &'static [&'static str])] = &[
        (Self::Gram, &["g", "gram", "grams"]),
        (Self::Kilogram, &["kg", "kilo", "kilos"]),
        (Self::Ounce, &["oz wt", "oz", "ounce", "ounces"]),
        (Self::Pound, &["lb", "lbs", "pound", "pounds"]),
        (Self::Millilitre, &["mL", "ml", "millilitres"]),
        (
            Self::Litre,
            &["L", "l", "litre", "litres", "liter", "liters"],
        ),
        (Self::Cup, &["US cups", "cup", "cups"]),
        (Self::FluidOunce, &["US fl oz", "fl oz", "floz"]),
        (Self::Tablespoon, &["US tbsp", "tbsp", "tablespoons"]),
        (Self::Teaspoon, &["US tsp", "tsp", "teaspoons"]),
        (Self::Celsius, &["°C", "c", "celsius"]),
        (Self::Fahrenheit, &["°F", "f", "fahrenheit"]),
        (Self::Millimetre, &["mm"]),
        (Self::Inch, &["in", "inch", "inches"]),
        (Self::Salometer, &["°SAL", "sal"]),
        (Self::Percent, &["%", "percent"]),
    ];

    /// The unit with this word.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        let plain = |text: &str| text.trim_start_matches('°').to_lowercase();
        let wanted = plain(word.trim());
        Self::WORDS
            .iter()
            .find(|(_, words)| words.iter().any(|w| plain(w) == wanted))
            .map(|(unit, _)| *unit)
    }

    /// The word printed.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::WORDS
            .iter()
            .find(|(unit, _)| *unit == self)
            .and_then(|(_, w)| w.first())
            .copied()
            .unwrap_or("")
    }
}
