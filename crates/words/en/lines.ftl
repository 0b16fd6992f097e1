# Sentences of the papers for the bench.

not-known = not known
not-a-number = not a number
not-computed = not computed: { $why }
percent-of = { $pct } of { $base }
limit-of = { $limit } ({ $title }, { $status })
load-n = load { $n }
load-of = load { $n } of { $all }
foot-lots =
    { $n ->
        [one] Lot {$codes}
       *[other] Lots {$codes}
    }
foot-plan = { $event } · plan { $version } · printed { $printed }
scale-in-parts = { $scale }, in parts of at most { $most }
scale-none-fine-enough = no scale here is fine enough: weigh it in a mix for several
day-board-legend = Full bar: hands. Empty bar: runs by itself. Thick edge: must not be missed. The code is the lot on the tub.
back-plan-legend = Empty bar: it waits. Whisker: how early and how late the wait may end. Shaded: the building is closed. Star: service.
clock-change = The clocks change during the wait for { $task }: { $elapsed } really pass, the wall shows { $wall }.
formula-under = { $code }, each weight within ± { $tolerance }
formula-reweigh = Weigh the base first. If it is not the planned weight, every line is its percentage of what you weighed.
total-check = all together must read
formula-cover = Weigh the food first: the liquor is { $ratio } × its weight, and every line goes by it.
formula-made = The lines make up the batch: percentages are of the finished batch, before loss.
formula-spare = Every line has { $spare } to spare in it; { $need } of it is needed.
formula-per-piece = On a piece of { $piece }: { $mix } of the mix.
formula-loads =
    { $n ->
        [one] One load.
       *[other] {$n} loads: these are the weights of all of them.
    }
formula-boils-off = of it, { $off } boil off
formula-hold-back = hold { $hold } more back; taste, then add
weights-together =
    { $n ->
        [one] {$name}: you weigh
       *[other] {$name}: the {$n} of you weigh together
    }
weights-own =
    { $n ->
        [one] {$name}: you weigh
       *[other] {$name}: you weigh
    }
done-by = done by { $hour }
hold-core = core at least { $core }, held { $hold }
hold-cold = then at most { $most }
hold-next = next step from { $earliest } to { $latest }
why-line = Why: { $why }
why-dry-cure = salt goes in with time and with the square of the thickness: the hour counts as much as the gram.
why-brine = salt moves between brine and meat until both are even: strength, weight and hours belong together.
why-pump = what is pumped in is weighed: before less after is the brine that stayed.
why-hot-smoke = smoke colours, heat makes the difference: the coldest core decides, never the mean.
why-cold-smoke = cold smoke does not cook: time below the limits is all there is.
why-chill = slow cooling lets spores grow that heat left alive: shallow and spread, read the thickest.
why-emulsify = oil breaks out when it comes faster than the drops are made small: thin stream first.
why-pickle = acid has to reach the middle of every piece: covered, pressed under, and read with the meter.
why-brew = what boils off is water, not acid and salt: the strength is weighed, not tasted.
why-hang = it is done by weight lost since it was hung, not by the day.
why-air-dry = a dry, tacky skin takes smoke evenly; a wet one runs.
why-fillet = what stays on the bone is bought and not served: the yield of every fish is weighed.
why-trim = every percentage counts on the trimmed weight: trim first, then weigh.
why-steep = flavour comes with time and heat, not with more spice.
why-strain = herbs under oil have no air: strained, cold at once, used within days.
why-carve = what was heated now meets your board: nothing raw may have touched it.
why-wash = water on the leaf thins the dressing and wilts it: dry it well.
why-cut = even pieces pickle, season and eat evenly.
why-receive = what comes in warm cannot be made right later: read it before you sign.
hold-clock = hold clock: { $hold } with every core at
hold-clock-rule = The hold starts when the coldest probe is there. Below it at any reading, the hold starts anew. A missing reading is never a pass.
no-core-aimed-at = no core temperature is aimed at: this is not cooked
readings-rule = Three probes from 5 kg on, in the thickest pieces and the coldest place. Write what you read; write a dash where you did not read.
deviation = what went otherwise, when, and what was done
what-was-done = what was done about it
cooling-clock-starts = the clock starts at this reading
cooling-within = within { $span } of it
cooling-within-in-all = within { $span } in all
cooling-no-rule = No rule of this place for cooling is known here: ask your authority.
cooling-thickest = Read the middle of the thickest piece, not the air. A missing reading is never a pass.
cooling-tick-reached = every hour above was met, by reading
cooling-tick-not-reached = not met: person in charge called, decision below
cooling-tick-not-read = not read: counts as not met
pickle-above-target = Above the target: add vinegar, stir, wait, read again. Below it, it is still a pickle for the fridge and never for the shelf.
receiving-rule = Count, weigh, read the temperature between two packs, smell, then sign. What is refused goes back with the driver.
receiving-fish = Fish: write the species and whether it is wild or farmed, and keep the tag. What is eaten raw or cold-smoked may ask for freezing, with its letter.
receiving-claim = short, damaged, claimed
order-shorts = short or changed by the supplier
order-edge = { $spec }: { $packs } would be { $short } short and save { $saves }.
door-map-rule = Ready food above, raw below, whatever its date. Nothing without a label. Leave room for air.
door-map-too-warm = Too warm: read the food, not the air; then the emergency card.
no-date-in-book = no days in the book: write the date
plating-rule = In this order. 6 o’clock is nearest to the guest. The heaviest part lies there, the rest by weight to both sides; points near the rim.
o-clock = { $hour } o’clock
stop-may = may: { $name }
stop-unknown = ask: { $name }
leaves-by = { $by }; a plate stands at most { $most }
can-be-left-out = can be left out
cannot-be-left-out = the dish is not the dish without it
brief-contains = contains
brief-may = may contain
brief-unknown = not known
brief-removable = yes, without { $parts }
brief-not-removable = no
brief-ask = Never guess for a guest: ask the kitchen, and say who told you.
matrix-contains = contains
matrix-may = may
matrix-unknown = ask
matrix-under = under limit
matrix-legend = contains: by the label. may: the label warns, or has to be read. ask: nobody has looked. · : on none of the labels read.
matrix-labels-only = By the labels in the book. It says nothing of shared boards, fryers and hands: ask the kitchen.
matrix-source = List: { $list }
verify-with-authority = Part of this list was not read itself: verify with your authority.
beside-contains = { $name } contains { $word } ({ $ingredient })
beside-may = { $name } may contain { $word } ({ $ingredient })
clean-strength = The strength of the sanitizer is on its own label: make it by that, read it with its strip, write it down.
clean-machine = empty, wash, rinse, sanitize, let dry in the air
clean-smoker = grids, drip tray and door seal: scrape, degrease, rinse, let dry; ash out when cold
clean-raw-boards = boards and knives for raw fish and meat
clean-raw-boards-how = apart from all others, before any ready food: wash, rinse, sanitize, let dry
clean-ready-boards = boards and knives for ready food
clean-ready-boards-how = wash, rinse, sanitize, let dry; between allergens too
clean-acid-tubs = pickle and brine tubs
clean-acid-tubs-how = no aluminium for acid and salt; wash, rinse long, sanitize, let dry
clean-cure-scale = scale and cups for curing salt
clean-cure-scale-how = wiped wet, never into other food; what is left goes back under lock, weighed
clean-probes = probes
clean-probes-how = wipe with a sanitizing wipe before and after each food
clean-hands = hand sink
clean-hands-how = soap, paper, nothing else in it
clean-drains = drains, floor, bins
clean-drains-how = last, with their own brushes
clean-allergen-boards = boards for special plates washed and kept apart
clean-strips-read = test strips read and written down
skill-dry-cure = dry cure
skill-brine = brine
skill-pump = pump
skill-smoke = smoking
skill-fillet = filleting
skill-trim = trimming
skill-pickle = pickling
skill-emulsify = emulsion
skill-mix = mixing
skill-chill = cooling, logged
skill-carve = slicing
skill-cut = knife cuts
skill-plate = plating
rubric-rule = Weight accuracy: what was weighed against what was asked, within ± { $tolerance }. Initials only for what was seen.
rubric-pairs = Pairs work together and are signed off one by one.
rubric-taste = Taste and technique: in words, on the back.
sheet-held = HELD: { $name }. It goes nowhere until somebody has decided; ask the instructor
sheet-discarded = DISCARDED: { $name }. It is not served
