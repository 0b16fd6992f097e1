# The dossier: verdicts, sources, what was not written down.

dossier-under = Lot { $code }
dossier-evidence-follows = The evidence follows on the next pages.
nothing-written-down = Nothing was written down yet: every figure here is of the plan, and none is a reading.
not-written-down = not written down
no-deviation-written-down = No deviation was written down. That is not to say that there was none.
no-reading = no reading
not-named = not named
nitrite-arithmetic = { $nitrite } g sodium nitrite × 1,000,000 ÷ { $green } g green weight
nitrite-green = Counted on the green weight, before curing; never on the finished weight. What a rinse takes away is not taken off.
verdicts-on-plan = Verdicts on the plan, not on readings. Rules stand in the wording they were read in.
verdict-shown = shown
verdict-not-shown = not shown
verdict-broken = broken
no-rule-speaks = None of the rules here speaks about this.
source-line = { $title } ({ $status }; { $holds })
holds-here = a rule of this place
holds-as-guidance = a state’s rule, guidance here
holds-stand-in = stand-in: no rule of this place is known here
status-read = read
status-second-hand = second-hand; verify with your authority
status-from-memory = from memory; verify with your authority
status-practice = common practice, no source
status-house = decided in this house
status-entered = entered
status-computed = computed
