//! Weights, temperatures and lengths in the unit habit of the sheet.
//!
//! In US customary the pound, the ounce, the °F and the inch come first and the gram, the °C and the mm follow: a cure is
//! weighed in grams whatever the kitchen speaks. Converted by the room `units`, rounded half-up once, here.

use units::{Length, Mass, Temperature};

use crate::wishes::UnitHabit;
use crate::writer::Writer;

/// Ounces in a pound.
const OZ_PER_LB: f64 = 16.0;

impl Writer<'_> {
    fn us(&self) -> bool {
        self.wishes.units == UnitHabit::UsCustomary
    }

    /// A weight to be weighed out or looked for: to 0.01 g below ten grams and for curing salt, to 0.1 g below a kilogram,
    /// to the gram from there.
    pub(crate) fn weight(&self, g: f64, curing: bool) -> String {
        let places = match g {
            _ if curing => 2,
            g if g < 9.995 => 2,
            g if g < 999.95 => 1,
            _ => 0,
        };
        let grams = self.words.with_unit(&self.words.number(g, places), "g");
        match Mass::grams(g) {
            Ok(mass) if self.us() => format!("{} ({grams})", self.pounds(mass)),
            _ => grams,
        }
    }

    /// A weight to carry or to buy.
    pub(crate) fn kilograms(&self, g: f64) -> String {
        let kg = self
            .words
            .with_unit(&self.words.number(g / 1000.0, 3), "kg");
        match Mass::grams(g) {
            Ok(mass) if self.us() => format!("{} ({kg})", self.pounds(mass)),
            _ => kg,
        }
    }

    /// Ounces to a hundredth below a pound, to a tenth from there.
    fn pounds(&self, mass: Mass) -> String {
        let (words, oz) = (&self.words, mass.oz());
        if oz < OZ_PER_LB - 0.005 {
            return words.with_unit(&words.number(oz, 2), "oz");
        }
        // Tenths first: 1 lb 15.97 oz is 2 lb and not 1 lb 16.0 oz.
        let tenths = (oz * 10.0 + 0.5).floor();
        let pounds = (tenths / (OZ_PER_LB * 10.0)).floor();
        let ounces = (tenths - pounds * OZ_PER_LB * 10.0) / 10.0;
        let lb = words.with_unit(&words.number(pounds, 0), "lb");
        if ounces > 0.0 {
            format!("{lb} {}", words.with_unit(&words.number(ounces, 1), "oz"))
        } else {
            lb
        }
    }

    /// A temperature.
    pub(crate) fn temperature(&self, c: f64) -> String {
        let celsius = self.words.with_unit(&signed(&self.words.short(c, 1)), "°C");
        match Temperature::celsius(c) {
            Ok(t) if self.us() => {
                // To the tenth: a limit rounded to the whole degree would be another limit.
                let f = self
                    .words
                    .with_unit(&signed(&self.words.short(t.f(), 1)), "°F");
                format!("{f} ({celsius})")
            }
            _ => celsius,
        }
    }

    /// A thickness.
    pub(crate) fn thickness(&self, length: Length) -> String {
        let mm = self
            .words
            .with_unit(&self.words.short(length.mm(), 1), "mm");
        if self.us() {
            let inches = self
                .words
                .with_unit(&self.words.number(length.inches(), 2), "in");
            format!("{inches} ({mm})")
        } else {
            mm
        }
    }
}

/// A minus that does not look like a hyphen.
fn signed(number: &str) -> String {
    number.replace('-', "−")
}
