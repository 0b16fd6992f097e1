//! One step of a recipe: what goes in, what is added, what comes out, how long, by whom, on what.

use sources::Citation;
use units::{Base, Elapsed, Length, Mass, Temperature};

use crate::Id;
use crate::verb::{Loses, Verb};

/// A step turns a lot into a lot.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Id, unique within the recipe.
    pub id: Id,
    /// One line a cook can follow.
    pub what: String,
    /// The act.
    pub verb: Verb,
    /// What flows in. Empty when the lot is made from the lines alone.
    pub feeds: Vec<Feed>,
    /// What the percentages of the lines are taken of.
    pub base: StepBase,
    /// Formula lines.
    pub lines: Vec<Line>,
    /// Mix made beyond what is used, as a ratio (0.02 = 2 %).
    pub spare_mix: f64,
    /// Out over in (over the base when nothing flows in).
    pub yields: Yield,
    /// What a yield below one takes away.
    pub loses: Loses,
    /// What of the added substances stays in the lot; `None`: not stated.
    pub keeps: Option<Keeps>,
    /// Work.
    pub hands: Hands,
    /// Machine time after the work, in order.
    pub programme: Vec<Segment>,
    /// What the programme must reach.
    pub until: Option<Until>,
    /// What the wait or the programme is to reach, so that its time can be computed.
    pub goal: Option<Goal>,
    /// Returning work inside the passive part.
    pub rounds: Option<Rounds>,
    /// How long the lot may stand before the next step.
    pub wait: Wait,
    /// Machines held.
    pub uses: Vec<MachineUse>,
    /// Shape of the piece, where thickness matters.
    pub piece: Option<Piece>,
    /// Whether the step runs in the same loads as the one before it.
    pub loads_as_before: bool,
    /// Pure clock rules to other steps of the recipe.
    pub clock: Vec<ClockRule>,
}

/// What flows into a step.
#[derive(Debug, Clone, PartialEq)]
pub struct Feed {
    /// Where it comes from.
    pub from: FeedFrom,
    /// Its part of the inflow; the shares of a step add to one.
    pub share: f64,
}

/// The origin of an inflow.
#[derive(Debug, Clone, PartialEq)]
pub enum FeedFrom {
    /// A bought item.
    Item {
        /// The ingredient.
        item: Id,
        /// Weight of one piece, when it comes in pieces.
        piece: Option<Mass>,
        /// Water of the flesh, percent, when the recipe states it.
        water_pct: Option<f64>,
    },
    /// An earlier step of the same recipe.
    Step(Id),
    /// The finished product of another recipe.
    Recipe(Id),
}

/// The base of a step's percentages.
#[derive(Debug, Clone, PartialEq)]
pub struct StepBase {
    /// Its name: "skin-on fillet", "green weight", "final liquor".
    pub name: Base,
    /// How its mass is found.
    pub kind: BaseKind,
    /// The batch is made in whole multiples of this.
    pub make_in: Option<Mass>,
    /// The batch size the recipe was written for; lines in grams or kitchen measures scale from it.
    pub written_for: Option<Mass>,
}

/// How the mass of a base is found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BaseKind {
    /// The mass flowing in, weighed.
    Inflow,
    /// The finished mass before loss; the lines make it up.
    Made,
    /// This many times the mass flowing in (a liquor over vegetables).
    Cover(f64),
}

/// A formula line.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What is added.
    pub item: LineItem,
    /// How it is used, when not whole: "zest", "leaf".
    pub form: Option<String>,
    /// How much.
    pub amount: LineAmount,
    /// Usable over purchased for this use (leaf picked from a bunch).
    pub trim: f64,
    /// Usable grams one purchased piece gives (zest of a lemon).
    pub gives: Option<Mass>,
    /// Start with this part of it when the batch is much larger than written, and hold back the rest.
    pub start_with: Option<f64>,
    /// Water that boils off while brewing and is added on top.
    pub boils_off: Option<BoilOff>,
    /// As the cook wrote it, when it was in kitchen measures.
    pub written: Option<String>,
}

/// What a line adds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LineItem {
    /// An ingredient.
    Item(Id),
    /// The product of another recipe.
    Recipe(Id),
}

impl LineItem {
    /// The id of the ingredient or recipe.
    #[must_use]
    pub const fn id(&self) -> &Id {
        match self {
            Self::Item(id) | Self::Recipe(id) => id,
        }
    }
}

/// How much of it.
#[derive(Debug, Clone, PartialEq)]
pub enum LineAmount {
    /// Percent of the step's base.
    OfBase(f64),
    /// Mass in the batch the recipe was written for.
    PerBatch(Mass),
    /// Mass in every machine load.
    PerLoad(Mass),
    /// So many for every piece or set.
    PerPiece(f64),
}

/// Water boiling off a brew.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BoilOff {
    /// This part of the brew as it goes on the fire.
    Part(f64),
    /// By pan area: diameter, time, and rate in g per cm² and hour.
    Pan {
        /// Inside diameter of the pan.
        diameter: Length,
        /// Time on the boil.
        time: Elapsed,
        /// Evaporation, g/(cm²·h).
        rate_g_cm2_h: f64,
    },
}

/// Out over in, with its spread.
#[derive(Debug, Clone, PartialEq)]
pub struct Yield {
    /// What to plan on.
    pub mean: f64,
    /// Poor day.
    pub low: f64,
    /// Good day.
    pub high: f64,
    /// Where it comes from.
    pub source: Citation,
}

/// The part of what is added that stays in the lot, 0–1; `None`: not stated, left out of means.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Keeps {
    /// Salt (and nitrite with it).
    pub salt: Option<f64>,
    /// Sugar.
    pub sugar: Option<f64>,
    /// Spices and the rest of the mix.
    pub rest: Option<f64>,
}

/// Work minutes: (set-up + per piece + per kg) × learner factor.
#[derive(Debug, Clone, PartialEq)]
pub struct Hands {
    /// Set-up and put-away.
    pub setup: Elapsed,
    /// For every piece or set.
    pub each: Elapsed,
    /// For every kilogram flowing in, minutes.
    pub per_kg: Elapsed,
    /// Learners take this many times as long as a professional.
    pub learner: f64,
    /// People who share the work.
    pub people: u32,
    /// Skill they must have.
    pub skill: Option<String>,
    /// On a line the slowest station sets the pace: seconds per piece at full crew.
    pub slowest: Option<Elapsed>,
    /// How much shorter or longer it may turn out; `None`: as the site says.
    pub spread: Option<crate::spread::Spread>,
}

/// A stretch of a machine programme.
#[derive(Debug, Clone, PartialEq)]
pub struct Segment {
    /// What it is: "dry", "smoke", "ramp", "hold".
    pub what: String,
    /// Air temperature.
    pub air: Option<Temperature>,
    /// How long.
    pub time: Elapsed,
    /// Smoke on.
    pub smoke: bool,
    /// Grows with thickness squared.
    pub by_thickness: bool,
    /// How much shorter or longer it may turn out; `None`: as the site says.
    pub spread: Option<crate::spread::Spread>,
}

/// What a programme must reach.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Until {
    /// Core temperature.
    pub core: Temperature,
    /// Time held there.
    pub hold: Elapsed,
}

/// What a passive part is to reach.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Goal {
    /// Salt, mean of the piece: this part of what it ends at, 0–1.
    Equilibrium(f64),
    /// Salt in the water phase at the place salt reaches last, percent.
    WaterPhaseSalt(f64),
    /// Mean salt of the piece, percent of it, between the two.
    Salt {
        /// Not less.
        low: f64,
        /// Not more.
        high: f64,
    },
    /// Weight lost since the step began, percent of the weight then.
    Loss(f64),
    /// At or below this everywhere.
    Cold(Temperature),
    /// Acid at the centre: this part of what it ends at, 0–1.
    Acid(f64),
}

/// Work that returns during the passive part.
#[derive(Debug, Clone, PartialEq)]
pub struct Rounds {
    /// What is done: "new fuel, brush the glaze".
    pub what: String,
    /// From one round to the next.
    pub every: Elapsed,
    /// From the start of the passive part to the first round.
    pub first: Elapsed,
    /// One more round at the very end.
    pub at_end: bool,
    /// How far a round may slip either way.
    pub give: Elapsed,
    /// Work of one round (before the learner factor of the step).
    pub hands: Elapsed,
    /// People for a round.
    pub people: u32,
}

/// How long a lot may stand.
#[derive(Debug, Clone, PartialEq)]
pub struct Wait {
    /// Not before.
    pub min: Elapsed,
    /// Where it is best.
    pub best: Option<Elapsed>,
    /// Not after.
    pub max: Elapsed,
    /// Grows with thickness squared.
    pub by_thickness: bool,
    /// Minimum and best come from the step's goal, computed.
    pub from_goal: bool,
    /// Hold at or below.
    pub at_most: Option<Temperature>,
    /// What buys more time when the maximum is too short.
    pub relief: Option<Relief>,
}

/// An extra act that resets a maximum wait: drain the ribbons and hold them damp.
#[derive(Debug, Clone, PartialEq)]
pub struct Relief {
    /// What is done.
    pub what: String,
    /// Work.
    pub hands: Elapsed,
    /// Time gained, from the start of the act.
    pub then_max: Elapsed,
}

/// A machine held during a step.
#[derive(Debug, Clone, PartialEq)]
pub struct MachineUse {
    /// Which.
    pub machine: Id,
    /// How much of it.
    pub amount: UseAmount,
    /// During which part of the step.
    pub during: During,
}

/// How much of a machine is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum UseAmount {
    /// The mass flowing in, against a capacity in kilograms.
    Mass,
    /// A slot for every so much mass.
    SlotsPer(Mass),
    /// So many slots (hooks, burners) for every piece.
    PerPiece(f64),
    /// A fixed number.
    Fixed(f64),
}

/// The part of a step during which a machine is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum During {
    /// While hands are on it.
    Hands,
    /// From the start of the work to the end of the programme.
    Run,
    /// From the end of the work until the next step starts.
    Wait,
    /// From the start of the work until the next step starts.
    All,
}

/// The piece, where thickness matters.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// "slab", "finger", "cylinder".
    pub shape: String,
    /// Thickness the recipe was written for.
    pub thickness: Length,
    /// The thinnest and the thickest piece of a usual batch, where stated.
    pub spread: Option<(Length, Length)>,
    /// Thickness of the pieces at hand; differs from the former only when measured.
    pub measured: Option<Length>,
    /// Faces through which salt and heat go in.
    pub open_faces: u32,
    /// Diffusivity of salt fitted to weighings of this house, m²/s.
    pub salt_diffusivity_m2_s: Option<f64>,
}

impl Piece {
    /// How much longer diffusion takes than written: thickness ratio squared.
    #[must_use]
    pub fn time_factor(&self) -> f64 {
        self.measured
            .map_or(1.0, |m| (m.mm() / self.thickness.mm()).powi(2))
    }
}

/// A clock rule between two steps that says nothing about mass.
#[derive(Debug, Clone, PartialEq)]
pub struct ClockRule {
    /// From the end of the work of this step.
    pub after: Id,
    /// Not before.
    pub min: Elapsed,
    /// Not after.
    pub max: Elapsed,
}
