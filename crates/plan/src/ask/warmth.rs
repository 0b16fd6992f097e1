//! A piece of food that gives or takes heat: what cooking and cooling ask alike.

use science::ScienceError;
use science::heat::{Body, HeatTransfer, History, Surroundings};
use science::thermal_properties::{Food, Percent, SALMON, TROUT, WATER};
use sources::list;
use units::Length;

use super::picture::thinned;
use super::refusal::Refusal;
use super::sheet::Sheet;

/// The equations, once for all formulas.
pub(super) const CONDUCTION: &str = "conduction ρ c ∂T/∂t = ∂(k ∂T/∂x)/∂x, h (air − surface) at the \
     faces (Carslaw and Jaeger, from memory), finite volumes; ρ, c, k by what the food is made of (Choi \
     and Okos, second-hand)";

/// What is heated or cooled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Matter {
    /// Trout and char.
    Trout,
    /// Salmon.
    Salmon,
    /// Plain water, for a thin liquor.
    Water,
    /// A row of a food table, or of a label.
    Row(Percent),
}

impl Matter {
    pub(super) fn food(self) -> Result<Food, ScienceError> {
        Food::new(self.row())
    }

    fn row(self) -> Percent {
        match self {
            Self::Trout => TROUT,
            Self::Salmon => SALMON,
            Self::Water => WATER,
            Self::Row(row) => row,
        }
    }

    /// In a word or two.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Trout => "trout or char flesh, typical (from memory)",
            Self::Salmon => "salmon flesh, typical (from memory)",
            Self::Water => "water",
            Self::Row(_) => "as entered",
        }
    }

    /// Puts what it is made of on the sheet; the ids.
    pub(super) fn enter(self, sheet: &mut Sheet) -> Vec<&'static str> {
        let row = self.row();
        let shares = [
            ("food.water", row.water),
            ("food.protein", row.protein),
            ("food.fat", row.fat),
            ("food.carbohydrate", row.carbohydrate),
            ("food.fibre", row.fibre),
            ("food.ash", row.ash),
        ];
        let mut ids = Vec::new();
        for (id, pct) in shares {
            if pct <= 0.0 {
                continue;
            }
            if matches!(self, Self::Row(_)) {
                sheet.entered(id, pct, "%");
            } else {
                sheet.known(id, pct, "%", &list::MEMORY, self.words());
            }
            ids.push(id);
        }
        ids
    }
}

/// Most pieces on each other taken for what it says. House value.
const MOST_STACKED: u32 = 20;

/// The thickness that counts, on the sheet as `thickness`: that of all pieces lying on each other, since
/// no air comes between them.
pub(super) fn stacked(one: Length, pieces: u32, sheet: &mut Sheet) -> Result<Length, Refusal> {
    if !(1..=MOST_STACKED).contains(&pieces) {
        return Err(Refusal::new(
            format!("--stack: found {pieces}"),
            format!("1 to {MOST_STACKED} pieces on each other"),
            "count them; lay them apart if you can",
        ));
    }
    if pieces == 1 {
        sheet.entered("thickness", one.mm(), "mm");
        return Ok(one);
    }
    let all = Length::millimetres(one.mm() * f64::from(pieces))?;
    sheet.entered("piece", one.mm(), "mm");
    sheet.entered("stack", f64::from(pieces), "pieces");
    let formula = "pieces × thickness: no air comes between them";
    let places = super::sheet::places_of(all.mm());
    sheet.worked(
        "thickness",
        all.mm(),
        "mm",
        places,
        formula,
        &["piece", "stack"],
    );
    sheet.worked(
        "stack.time",
        f64::from(pieces).powi(2),
        "",
        0,
        "pieces²: time goes about with the square of the thickness",
        &["stack"],
    );
    Ok(all)
}

/// What is said aloud of pieces on each other: a row, and what to do first.
pub(super) fn on_each_other(pieces: u32, sheet: &Sheet) -> Option<(String, String)> {
    (pieces > 1).then(|| {
        (
            format!(
                "{} of {} on each other count as one of {}",
                sheet.show("stack"),
                sheet.show("piece"),
                sheet.show("thickness")
            ),
            format!(
                "lay them apart, one deep: on each other they take about {} times as long",
                sheet.show("stack.time")
            ),
        )
    })
}

/// How a piece lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Lying {
    /// Flat, open on both faces.
    BothFaces,
    /// Flat, or the depth of a tub, open on one face.
    OneFace,
    /// Long and round, open all round.
    Round,
}

impl Lying {
    pub(super) fn body(self, thickness: Length) -> Result<Body, ScienceError> {
        match self {
            Self::BothFaces => Body::slab(thickness),
            Self::OneFace => Body::one_sided(thickness),
            Self::Round => Body::cylinder(thickness),
        }
    }

    pub(super) fn words(self) -> &'static str {
        match self {
            Self::BothFaces => "flat, open on both faces",
            Self::OneFace => "open on one face, the other gives and takes nothing",
            Self::Round => "long and round",
        }
    }
}

/// The low, usual and high heat transfer, on the sheet under `h.slow`, `h.usual`, `h.quick`.
pub(super) fn transfer(
    surroundings: Surroundings,
    sheet: &mut Sheet,
) -> Result<[(&'static str, HeatTransfer); 3], Refusal> {
    let spread = surroundings.heat_transfer()?;
    let all = [
        ("slow", spread.low),
        ("usual", spread.usual),
        ("quick", spread.high),
    ];
    for (name, h) in all {
        sheet.known(
            &format!("h.{name}"),
            h.value(),
            "W/(m² K)",
            &list::HEAT_TRANSFER,
            name,
        );
    }
    Ok(all)
}

/// One place of a history against time, thinned for a picture.
pub(super) fn curve(
    history: &History,
    per_hour: f64,
    of: impl Fn(&science::heat::Reading) -> f64,
) -> Vec<(f64, f64)> {
    let points = history
        .readings
        .iter()
        .map(|r| (r.time.hours() * per_hour, of(r)));
    thinned(points.collect(), 160)
}
