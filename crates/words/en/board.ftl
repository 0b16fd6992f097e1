# What stands on the board: the frame of every page, headings, heads of tables, buttons, fields.

## frame

board-events = Events
board-recipes = Recipes
board-bench = Bench
board-sources = Sources
board-today = Today
board-plan = Plan
board-weigh = Weigh
board-cold-store = Cold store
board-guests = Guests
board-order = Order
board-papers = Papers
board-cost = Cost
board-record = Record
board-verdicts = Verdicts
board-why = Why
board-skip = To the page itself
board-rules = rules
board-variance = variance and plan
board-none-named = none named
board-not-evidence = A plan is not evidence: what is cured, cooked or cooled is shown by readings of a checked instrument.
board-local-first = Local code and the plan your authority approved come first.
board-plan-sentences = Sentences of the plan are in English.
board-kitchen = Kitchen
board-this-event = This event
board-what-if = What if:
board-what-changes = what changes
board-as-book = as the book has it
board-how-reached = how it was reached

## the choice, who is here

board-language = Language
board-sign-in = Sign in
board-people-devices = People and devices
board-sign-out = Sign out
board-written-as = Written down as
board-who-needed = Who (needed)

## trouble

board-expected = expected
board-do-now = do now
board-not-here = Not here
board-not-taken = Not taken
board-not-opened = Not opened
board-too-often = Too often
board-too-large = Too large
board-not-written-down = Not written down
board-being-planned = Being planned
board-something-failed = Something failed
board-nothing-changed = Nothing was changed. Go back one page: what you filled in is still there.
board-all-events = All events

## what happened, above every page

board-as-planned-title = As it was planned
board-without-written = , without what was written down
board-as-it-stands = as it stands now
board-replanned-from = Re-planned from
board-what-moved = what moved
board-as-planned = as it was planned
board-not-counted = Not counted until it is corrected:
board-last = , last
board-expected-inline = expected
board-entries =
    { $n ->
        [one] { $n } entry
       *[other] { $n } entries
    }
board-open-deviations-n =
    { $n ->
        [one] { $n } open deviation
       *[other] { $n } open deviations
    }
board-entry-n = entry { $n }:
board-correct-entry = correct entry { $n }
board-as-of = As of { $hour }. Load the page again for what came since.

## Today

board-clock-of = Clock of
board-clock-legend = Full: hands. Striped: runs by itself. Line with end strokes: how far its start may move. Shaded: the building is closed.
board-as-if = Looked at as if it were
board-kitchen-clock = , on the clock of the kitchen.
board-days = Days
board-at = at
board-nothing-in-hand = Nothing is in hand.
board-until = until
board-next-hours = The next three hours
board-nothing-until = Nothing starts or stops until
board-next-at = ; next at
board-clock = Clock
board-what = What
board-who = Who
board-latest = At the latest
board-start = start
board-stop = stop
board-now-or-never = now or never
board-who-where = Who is where
board-standing = Standing now
board-since = Since
board-goes-on = Goes on
board-not-before = Not before
board-left = left)
board-out-of-limits = Out of limits
board-none-broken = No verdict of this plan is broken;
board-not-shown-yet = what is not shown yet

## buttons of the day

board-act-temperature = Temperature
board-act-received = Received
board-act-start = Start
board-act-done = Done
board-act-ph = pH
board-act-stopped = It stopped
board-by-piece = Weighed piece by piece
board-together = , together
board-not-on-it = . The plan does not stand on it.
board-all-of-it = That is all of it
board-taken-where = Taken where nothing was written down
board-planned-before = Planned before now, not written down

## limits

board-open-deviations = Open deviations
board-limit = limit
board-margin = margin
board-decide = Decide
board-go-on = Go on from there
board-newest = Newest readings
board-reading = Reading
board-when = When
board-limit-head = Limit
board-outside = OUTSIDE
board-no-limit = no limit here
board-one-beside-one = One reading beside one limit; what a whole log shows stands under Record.
board-the-event = the event

## under way

board-under-way = Under way, as written down
board-has-hour = has the hour.
board-the-record = the record
board-since-inline = since
board-ends = ends
board-over-time = over its time
board-by-length = by the plan's length
board-no-length = the plan gives it no length
board-hold-not-judged = hold not judged
board-hold-not-started = hold not started
board-lost = , lost:
board-hold-interrupted = hold interrupted
board-by-record = by the record
board-not-judged = not judged:
board-no-reading-yet = no reading yet
board-by-itself = by itself
board-way-not-there = { $limit }, not there yet
board-core-limit = core { $core } °C
board-coldest = coldest { $core } °C ({ $probe })
board-started-corrected = Started, and corrected by entry { $n }:
board-not-every-probe = ; not every probe was read at its temperature yet, no more than { $gap } apart
board-starts-when = ; it starts when every probe is at { $core } °C
board-interrupted-at = at { $held } of { $need } min: no reading of every probe for longer than { $gap }; it begins anew with the next
board-hold-at = hold: { $held } of { $need } min
board-probes-read =
    { $n ->
        [one] { $n } probe, read
       *[other] { $n } probes, all read
    }
board-ago-at = ago, at { $hour }
board-loads =
    { $n ->
        [one] { $n } load
       *[other] { $n } loads
    }
