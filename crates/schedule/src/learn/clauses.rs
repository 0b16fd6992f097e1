//! What has been learned: clauses, watched at two of their literals.

use super::trail::{Conflict, Lit, Reason, Trail};

/// One learned clause: at least one of its literals is true in every schedule looked for.
#[derive(Debug)]
struct Clause {
    lits: Vec<Lit>,
    activity: f64,
    /// Decision levels among its literals when it was learned; few is good.
    spread: u32,
}

/// A clause waits here for its literal to become false.
#[derive(Debug, Clone, Copy)]
struct Watch {
    /// The bound of the side watched at which the literal is false.
    fails_at: i64,
    clause: u32,
    /// Another literal of the clause; while it holds nothing needs doing.
    other: Lit,
}

/// All clauses learned.
#[derive(Debug)]
pub(super) struct Clauses {
    all: Vec<Clause>,
    /// By the side whose rise makes the watched literal false.
    watches: Vec<Vec<Watch>>,
    bump: f64,
}

impl Clauses {
    pub(super) fn none(sides: usize) -> Self {
        Self {
            all: Vec::new(),
            watches: vec![Vec::new(); sides],
            bump: 1.0,
        }
    }

    pub(super) fn len(&self) -> usize {
        self.all.len()
    }

    pub(super) fn lits(&self, clause: u32) -> &[Lit] {
        &self.all[clause as usize].lits
    }

    /// Takes a clause of at least two literals, its first two to be watched.
    pub(super) fn add(&mut self, lits: Vec<Lit>, spread: u32) -> u32 {
        let clause = self.all.len() as u32;
        self.watch(lits[0], lits[1], clause);
        self.watch(lits[1], lits[0], clause);
        self.all.push(Clause {
            lits,
            activity: self.bump,
            spread,
        });
        clause
    }

    fn watch(&mut self, lit: Lit, other: Lit, clause: u32) {
        self.watches[(lit.side ^ 1) as usize].push(Watch {
            fails_at: 1 - lit.value,
            clause,
            other,
        });
    }

    pub(super) fn used(&mut self, clause: u32) {
        const TOO_LARGE: f64 = 1e100;
        let activity = &mut self.all[clause as usize].activity;
        *activity += self.bump;
        if *activity > TOO_LARGE {
            for clause in &mut self.all {
                clause.activity /= TOO_LARGE;
            }
            self.bump /= TOO_LARGE;
        }
    }

    pub(super) fn fade(&mut self) {
        self.bump /= 0.999;
    }

    /// What follows from a side having risen past `before`.
    pub(super) fn propagate(
        &mut self,
        trail: &mut Trail,
        side: u32,
        before: i64,
        steps: &mut u64,
    ) -> Result<(), Conflict> {
        let mut waiting = std::mem::take(&mut self.watches[side as usize]);
        let mut kept = 0;
        let mut found = Ok(());
        let mut place = 0;
        *steps += waiting.len() as u64 / 4;
        'watches: while place < waiting.len() {
            let watch = waiting[place];
            place += 1;
            if watch.fails_at <= before
                || watch.fails_at > trail.bound[side as usize]
                || trail.holds(watch.other)
            {
                waiting[kept] = watch;
                kept += 1;
                continue;
            }
            *steps += 1;
            let lits = &mut self.all[watch.clause as usize].lits;
            // The literal that failed goes second.
            if lits[0].side ^ 1 == side && 1 - lits[0].value == watch.fails_at {
                lits.swap(0, 1);
            }
            let first = lits[0];
            if first != watch.other && trail.holds(first) {
                waiting[kept] = Watch {
                    other: first,
                    ..watch
                };
                kept += 1;
                continue;
            }
            for at in 2..lits.len() {
                if !trail.fails(lits[at]) {
                    lits.swap(1, at);
                    let lit = lits[1];
                    let next = Watch {
                        fails_at: 1 - lit.value,
                        clause: watch.clause,
                        other: first,
                    };
                    let home = (lit.side ^ 1) as usize;
                    if home == side as usize {
                        // Stays in this very list, to fail at a higher bound.
                        waiting[kept] = next;
                        kept += 1;
                    } else {
                        self.watches[home].push(next);
                    }
                    continue 'watches;
                }
            }
            waiting[kept] = watch;
            kept += 1;
            if trail.fails(first) {
                found = Err(lits.iter().map(|lit| lit.negated()).collect());
                break;
            }
            if let Err(conflict) = trail.raise(first, Reason::Clause(watch.clause)) {
                found = Err(conflict);
                break;
            }
        }
        while place < waiting.len() {
            waiting[kept] = waiting[place];
            kept += 1;
            place += 1;
        }
        waiting.truncate(kept);
        // Nothing was added to this list meanwhile: watches of this side were kept in `waiting`.
        self.watches[side as usize] = waiting;
        found
    }

    /// Forgets the less useful half of what is long. Only at the root, where no clause is a reason.
    pub(super) fn forget_half(&mut self, trail: &Trail) {
        const SHORT: u32 = 2;
        let mut order: Vec<usize> = (0..self.all.len())
            .filter(|&at| self.all[at].spread > SHORT)
            .collect();
        order.sort_by(|&a, &b| self.all[a].activity.total_cmp(&self.all[b].activity));
        order.truncate(order.len() / 2);
        let mut goes = vec![false; self.all.len()];
        for at in order {
            goes[at] = true;
        }
        for watches in &mut self.watches {
            watches.clear();
        }
        let old = std::mem::take(&mut self.all);
        for (at, clause) in old.into_iter().enumerate() {
            // What is true at the root is true for good; so is what is false, and both watches must not be.
            if goes[at] || clause.lits.iter().any(|&lit| trail.holds(lit)) {
                continue;
            }
            let mut lits = clause.lits;
            lits.retain(|&lit| !trail.fails(lit));
            if lits.len() < 2 {
                continue;
            }
            let index = self.all.len() as u32;
            self.watch(lits[0], lits[1], index);
            self.watch(lits[1], lits[0], index);
            self.all.push(Clause { lits, ..clause });
        }
    }
}
