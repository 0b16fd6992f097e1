//! Waits, machines and pieces of a step.

use kitchen::step::{During, MachineUse, Piece, Relief, UseAmount, Wait};
use units::Elapsed;

use crate::diagnostic::Code;
use crate::fields::Fields;
use crate::known::Known;

/// Longest wait taken: a year. A longer one is a slip of the unit.
const LONGEST_DAYS: f64 = 366.0;

/// Reads `wait`; it is never left out.
pub(crate) fn wait(fields: &Fields<'_, '_>) -> Option<Wait> {
    if !fields.has("wait") {
        fields.raw("wait");
        fields.missing(
            "wait",
            "wait = { min = …, max = … } or \"at once\": every lot may stand only so long",
            "say how long it must and how long it may stand before the next step",
        );
        return None;
    }
    if fields
        .raw("wait")
        .is_some_and(|v| v.get_ref().as_str().is_some())
    {
        let once = fields.one_of("wait", &[("at once", ())]);
        return once.map(|()| Wait {
            min: Elapsed::ZERO,
            best: None,
            max: Elapsed::ZERO,
            by_thickness: false,
            from_goal: false,
            at_most: None,
            relief: None,
        });
    }
    let f = fields.fields("wait", format!("the wait of {}", fields.what))?;
    let from_goal = f.flag("from-goal").unwrap_or(false);
    if from_goal && !fields.has("goal") {
        fields.missing(
            "goal",
            "a goal, for the wait is to come from it",
            "say what is to be reached: goal = { equilibrium = \"95 %\" }",
        );
        return None;
    }
    // The goal gives the minimum; a minimum beside it is a floor.
    let window = if from_goal && !f.has("min") {
        f.raw("min");
        match f.elapsed("max") {
            Some((max, _)) => Some((Elapsed::ZERO, max)),
            None => min_max(&f),
        }
    } else {
        min_max(&f)
    };
    let best = f.elapsed("best");
    let by_thickness = f.flag("by-thickness").unwrap_or(false);
    let at_most = f.at_most("at");
    let relief = f
        .fields("relief", format!("the relief of {}", fields.what))
        .and_then(|r| relief(&r));
    f.close();
    let (min, max) = window?;
    if let Some((best, span)) = &best
        && (*best < min || *best > max)
    {
        f.page.report(
            Code::Contradiction,
            span.clone(),
            format!("{} is best at {best}, outside {min} to {max}", f.what),
            "min ≤ best ≤ max",
            "put them in order",
        );
        return None;
    }
    Some(Wait {
        min,
        best: best.map(|(t, _)| t),
        max,
        by_thickness,
        from_goal,
        at_most,
        relief,
    })
}

/// Reads `min` and `max` and holds them against each other.
pub(crate) fn min_max(f: &Fields<'_, '_>) -> Option<(Elapsed, Elapsed)> {
    let min = f.elapsed("min");
    let max = f.elapsed("max");
    if min.is_none() && !f.has("min") {
        f.missing(
            "min",
            "a minimum, such as \"18 h\" (\"0 min\" when there is none)",
            "write it",
        );
    }
    if max.is_none() && !f.has("max") {
        f.missing(
            "max",
            "a maximum, such as \"24 h\": everything goes off",
            "write it",
        );
    }
    let ((min, at), (max, max_at)) = (min?, max?);
    if min > max {
        f.page.report(
            Code::Contradiction,
            at,
            format!(
                "{} has a minimum of {min} above its maximum of {max}",
                f.what
            ),
            "min ≤ max",
            "swap them, or correct the unit",
        );
        return None;
    }
    if max.days() > LONGEST_DAYS {
        f.page.report(
            Code::OutOfRange,
            max_at,
            format!("{} has a maximum of {max}", f.what),
            "at most a year",
            "check the unit",
        );
        return None;
    }
    Some((min, max))
}

fn relief(f: &Fields<'_, '_>) -> Option<Relief> {
    let what = f.need_text("what", "what is done", "say it");
    let hands = f.elapsed("hands");
    let then_max = f.elapsed("then-max");
    for key in ["hands", "then-max"] {
        if !f.has(key) {
            f.missing(key, "a time, such as \"2 h\"", "write it");
        }
    }
    f.close();
    Some(Relief {
        what: what?.0,
        hands: hands?.0,
        then_max: then_max?.0,
    })
}

/// Reads one entry of `uses`.
pub(crate) fn machine_use(f: &Fields<'_, '_>, known: &Known) -> Option<MachineUse> {
    let machine = match f.need_text("machine", "the id of a machine", "name it") {
        Some((name, span)) => known.machine(f, &name, &span),
        None => None,
    };
    let during = f
        .one_of(
            "during",
            &[
                ("hands", During::Hands),
                ("run", During::Run),
                ("wait", During::Wait),
                ("all", During::All),
            ],
        )
        .unwrap_or(During::Run);
    let by_mass = f.one_of("by", &[("mass", ())]).map(|()| UseAmount::Mass);
    let slots = f.some_mass("slots-per").map(UseAmount::SlotsPer);
    let per_piece = f
        .number_within(
            "per-piece",
            0.001,
            1000.0,
            "write how many places one piece takes",
        )
        .map(|(n, _)| UseAmount::PerPiece(n));
    let fixed = f
        .number_within(
            "fixed",
            0.001,
            100_000.0,
            "write how much of the machine it takes",
        )
        .map(|(n, _)| UseAmount::Fixed(n));
    f.close();
    let given = f.given(&["by", "slots-per", "per-piece", "fixed"]);
    if given.len() != 1 {
        let (says, do_now) = match given.as_slice() {
            [] => (
                "does not say how much of the machine it takes".to_owned(),
                "add one of them",
            ),
            _ => (
                format!("says how much twice: {}", given.join(" and ")),
                "keep one",
            ),
        };
        f.page.report(
            Code::Contradiction,
            given.last().map_or_else(|| f.head(), |key| f.at(key)),
            format!("{} {says}", f.what),
            "one of: by = \"mass\", slots-per, per-piece, fixed",
            do_now,
        );
        return None;
    }
    Some(MachineUse {
        machine: machine?,
        amount: by_mass.or(slots).or(per_piece).or(fixed)?,
        during,
    })
}

/// Reads `piece`.
pub(crate) fn piece(f: &Fields<'_, '_>) -> Option<Piece> {
    let shape = f.one_of(
        "shape",
        &[
            ("slab", "slab"),
            ("finger", "finger"),
            ("cylinder", "cylinder"),
        ],
    );
    let thickness = f.length("thickness");
    for key in ["shape", "thickness"] {
        if !f.has(key) {
            f.missing(
                key,
                "the shape and thickness of a piece",
                "measure the thickest place",
            );
        }
    }
    let open_faces = f
        .whole("open-faces", 1, 6, "count the faces salt goes in through")
        .unwrap_or(1);
    let (thin, thick) = (f.length("thin"), f.length("thick"));
    let salt_diffusivity_m2_s = f
        .number_within(
            "salt-diffusivity",
            1e-12,
            1e-8,
            "write m²/s, fitted to weighings of your own, such as 2.5e-10",
        )
        .map(|(d, _)| d);
    f.close();
    let (thickness, at) = thickness?;
    let spread = match (thin, thick) {
        (None, None) => None,
        (thin, thick) => {
            let low = thin.map_or(thickness, |(t, _)| t);
            let high = thick.map_or(thickness, |(t, _)| t);
            if low > thickness || thickness > high {
                f.page.report(
                    Code::Contradiction,
                    at,
                    format!("{} is {low} thin, {thickness}, {high} thick", f.what),
                    "thin ≤ thickness ≤ thick",
                    "put them in order",
                );
                return None;
            }
            Some((low, high))
        }
    };
    Some(Piece {
        shape: shape?.to_owned(),
        thickness,
        spread,
        measured: None,
        open_faces,
        salt_diffusivity_m2_s,
    })
}
