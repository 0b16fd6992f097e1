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

## Record

board-not-kept = This record is not kept
board-ends-with = : it ends with the program. Start it with
board-to-keep = to keep one.
board-sealed-with = in all; the last is sealed with
board-seal-tells = . Written down elsewhere, it tells whether anything before it was changed since.
board-which-piece = Which piece, pan, probe or line
board-kind-hint = or what kind it is: nitrite, smoker-stopped
board-part-hint = probe 2
board-reading-unit = Reading, with its unit
board-when-not-now = When, if not now
board-words = Words
board-enter = Enter
board-correcting = A reading takes the place of the wrong one. Without a reading the entry is taken back; with an hour it is written down anew at that hour.
board-nothing-written = Nothing was written down. What you filled in stands below.
board-unit-shown = Unit, as the instrument shows it
board-what-happened = What happened
board-of-what = Of what
board-event-whole = the event as a whole
board-more-fields = Piece, hour, words
board-write-down = Write it down
board-nothing-yet = Nothing is written down yet.
board-number = No.
board-corrected-by = corrected by
board-correct = correct
board-readings-show = What the readings show
board-may-be-done = What may be done now
board-asks = asks
board-against = against
board-next = Next:

## Weigh

board-needed-of = needed of
board-made = made
board-portions-of = portions of
board-of-base = of base
board-computed = computed
board-weigh-out = weigh out
board-each-load = each load
board-each-piece = each piece
board-pieces = pieces
board-weigh-act = weigh

## a weight that looks like a slip

board-which-unit = Which unit was it?
board-look-at-unit = Look at the unit on the scale. Nothing is written down yet.
board-neither = Neither: weigh it again
board-too-much = too much
board-too-little = too little
board-nothing-on-scale = nothing on the scale
board-stopped = Stopped
board-nothing-goes-in = Nothing goes into the batch.
board-not-stored-until = . The entry is not stored until an instructor has looked at scale, unit and sheet and says why it stands.
board-instructor-other = Instructor (another than who weighed)
board-reason = Reason
board-decide-both = Decide, and write both down
board-weigh-again = Weigh it again

## a deviation

board-margin-inline = margin
board-decided = Decided
board-entry-inline = , entry
board-settled = Settled.
board-open-ways = The ways that are open
board-then = then
board-cause-hint = the cause, who was asked, grams discarded
board-write-decision = Write the decision down
board-outside-its-limit = Outside its limit

## Lot

board-label = Label
board-where-went = Where it went
board-plan-verdicts = Verdicts of the plan
board-no-rule = None of the rules here speaks about this.
board-every-figure = Every figure of it
board-something-outside = Something is outside its limit
board-written-down = Written down
board-step = Step
board-taken-back = taken back
board-ready = ready
board-discard-by = discard by
board-no-allergen-named = no allergen of this place is named on the labels in the book; read them
board-contains = contains
board-label-note = From the plan as it stands now; what is sealed on the tub is what was made.
board-in-inline = in
board-no-plate = on no plate of this event
board-went-note = By the plan: which plate went to whom is not written down here.
board-mean-note = Computed for the whole lot from the formula and the yields: a mean, never the core.
board-lot-water-phase = water-phase salt, mean
board-lot-salt = salt
board-lot-water = water
board-lot-activity = water activity
board-lot-sugar = sugar
board-lot-nitrite = nitrite, ingoing
board-lot-acetic = acetic acid
board-start-head = Start
board-end-head = End
board-may-start = May start
board-write-down-link = write down
board-to = to
board-windows = Computed windows
board-thin-piece = thin piece
board-usual-piece = usual piece
board-thickest-piece = thickest piece
board-thickest-slow = thickest, were it slow
board-house-own = the house's own
board-not-computed = Not computed:

## Cold store

board-cold-machines = Cold store and machines
board-discard-head = Discard by
board-no-dates = Nothing of this event carries a date.
board-days-note = The house's days, counted from the day made as day 1, and the earliest part.
board-out-of-order = out of order
board-not-used = not used by this event
board-fullest = fullest
board-so-at-least = , so at least
board-free = free
board-beside-event = beside this event
board-in-head = In
board-out-head = Out
board-places = places

## Guests

board-specials = Special plates
board-no-specials = None named for this event. A change such as
board-adds-one = adds one, here and on the plan.
board-of = of
board-for = for
board-must-not-have = The guest must not have
board-or-eats = or eats
board-seat = Seat
board-can-eat = Can this guest eat it?
board-matrix = What is in what, as far as the labels in the book say
board-dish-part = Dish and part
board-matrix-note = Every sign opens the ingredient behind it. Labels come first: read them.
board-swap = swap
board-correct-entry-head = Correct entry { $n }
board-of-entry = of { $n }
board-from-times = From { $times } times off it is stopped (house value).
board-is-wanted = { $found } where { $wanted } are wanted: { $what }
board-times-off = { $times } times { $many }
board-put-in = put in { $all }: { $off } boil off
board-hold-back = start { $first }, hold { $rest } back
board-caution = Caution, { $step }, { $about }:
board-places-note = Water-phase salt of the thickest piece when it comes out: mean { $mean } %, surface { $surface } %, where it comes last { $core } %.
board-guest-asked = The guest is asked, the label is read.
board-plates =
    { $n ->
        [one] { $n } plate
       *[other] { $n } plates
    }
board-n-loads =
    { $n ->
        [one] { $n } load
       *[other] { $n } loads
    }
board-kind-started = started
board-kind-done = done
board-kind-weighed = weighed
board-kind-temperature = temperature read
board-kind-ph = pH read
board-kind-received = received
board-kind-deviation = outside its limit
board-kind-decision = decided
board-kind-note = note

## held lots, signs of the matrix

board-discarded = DISCARDED
board-held = HELD
board-state-free = none on the labels
board-state-under = under the limit
board-state-may = may contain
board-state-unknown = unknown
board-state-contains = contains

## cores over time

board-core = Core,
board-no-clock-to-draw = There is no clock to draw it on.
board-not-drawn = Not drawn:
board-prediction = . A prediction shows nothing; the probes do.
board-nothing-read = Nothing is read yet.
board-core-axis = core

## verdicts

board-broken-head = Broken
board-not-shown-head = Not shown
board-shown-head = Shown
board-counted-on = counted on:
board-verify = ; verify with your authority

## events

board-bench-questions-link = The bench questions
board-bench-such-as = : how much salt, when it comes out, is it cold fast enough.

## the plan of an event

board-plates-label = plates
board-clock-label = clock
board-food-bought = food, bought
board-work = work
board-verdicts-label = verdicts
board-broken = broken
board-not-shown = not shown,
board-shown = shown
board-clock-proved = holds, none better
board-clock-holds = holds
board-clock-impossible = impossible
board-clock-not-found = not found
board-because = because
board-ways-out = Ways out
board-no-way-out = None of what was tried gives a clock.
board-holds-too = Holds too:
board-no-help = Does not help:
board-cut-short = The effort for this ended before everything was tried.
board-components = Components
board-what-if-head = What if
board-covers = Covers
board-covers-hint = how many pay
board-serve-moves = Serving hour moves
board-people-at-once = People at one time
board-people-hint = -2: two are absent
board-another-change = Another change
board-change-hint = KEY=VALUE: a weight, a thickness, a machine, a price
board-see-changes = See what changes
board-every-key = Every key that can be changed (

## order

board-order-by = Order by
board-comes = , comes
board-item = Item
board-spec = Spec
board-buy = Buy
board-needed = Needed
board-price = Price
board-or = or

## cost

board-food-needed = food, needed
board-labour = labour
board-prime = prime: food and labour
board-budget = budget
board-against-it = against it
board-target-price = price at the food share aimed at
board-work-head = Work
board-time = Time
board-an-hour = An hour
board-paid-present = paid for being there
board-food-by-component = Food by component
board-component = Component
board-bought = Bought
board-per-kg = A kilogram made

## sources

board-only-read = Only a text that was read itself can make a verdict
board-shown-word = shown
board-others-break = ; the others can break one: verify them with your authority.
board-texts = Texts, tables and programs
board-key = Key
board-title = Title
board-how-far = How far
board-rules-head = Rules
board-row = Row
board-place = Place
board-what-for = What for
board-text = Text

## why

board-part-of-name = Part of a name
board-find = Find
board-figures = figures
board-from = from

## bench

board-bench-questions = Bench questions
board-all-bench = All bench questions
board-caution-inline = Caution:
board-shown-by-entered = Shown by what was entered; the code of your place comes first.
board-answer = Answer
board-needed-inline = (needed)
board-air-not-drawn =
    { $n ->
        [one] { $n } readings of the air are not drawn.
       *[other] { $n } readings of the air are not drawn.
    }
board-aside =
    { $n ->
        [one] { $n } readings more than { $hours } h from this run are not drawn.
       *[other] { $n } readings more than { $hours } h from this run are not drawn.
    }
board-chart-title = Core in { $step }, predicted and measured
board-chart-since = since { $at }
board-ways-plans =
    { $n ->
        [one] Each was planned anew by the same clock ({ $n } plans).
       *[other] Each was planned anew by the same clock ({ $n } plans).
    }
board-food-labour = food { $food }, labour { $labour }
board-a-cover = a { $cover }
board-paying = { $n } paying { $cover }s
board-edge = edge: { $packs } would do, { $short } % short, saves { $saves }
board-n-more = { $n } more: open it
board-one-cover = cover

## papers

board-paper-day-board = Day board
board-paper-back-plan = Back-plan
board-paper-prep-list = Mise en place by day
board-paper-station-card = Station cards
board-paper-formula-card = Formula cards
board-paper-cure-sheet = Cure and brine sheets
board-paper-smoker-log = Smoker logs
board-paper-cooling-log = Cooling logs
board-paper-pickle-log = Pickle logs
board-paper-receiving-sheet = Receiving sheets
board-paper-door-map = Door maps
board-paper-tub-label = Tub labels, to be cut
board-paper-plating-guide = Plating guides
board-paper-allergen-matrix = Allergen matrix
board-paper-order-sheet = Order sheets
board-paper-service-brief = Briefs for service
board-paper-cleaning-list = Cleaning lists
board-paper-emergency-card = When something stops
board-paper-rubric = Competencies and sign-off
board-paper-dossier = Batch dossiers
board-all-as-pdf = Everything as one PDF
board-paper = Paper
board-pages = Pages
board-print = Print
board-look-head = Look
board-look = look
board-stock-us = letter, tabloid
board-measures = Measures
board-metric = metric
board-us-measures = US, grams beside
board-pdf-to-print = PDF to print
board-all-papers = all papers

## sign-in

board-sign-in-how = The instructor gives each tablet a sign-in: look at the square with the camera, or type the six digits here. They work once, for ten minutes.
board-name = Name
board-pin = Number
board-six-digits = six digits
board-instructor = Instructor
board-passphrase = Passphrase
board-sign-in-passphrase = Sign in with the passphrase
board-no-tls = What is sent here can be read by whoever listens on this network: there is no TLS. Use a network of the kitchen's own.
board-signs-in-as = This device signs in as
board-at-station = , at
board-sign-in-as = Sign in as
board-read-above = What was read stands above, under the open deviations.
board-instructor-decides = The instructor decides.

## what a change moves

board-changes-title = What changes
board-day-and-change = The day as it stands, and the day with the change.
board-book-and-written = The plan of the book, and the plan from what was written down.
board-no-change = Nothing was changed.
board-back-to-plan = Back to the plan
board-tasks-that-move = tasks that move
board-n-stay = { $n } stay
board-food = food
board-prime-short = prime
board-slack-left = Slack left
board-nothing-moves = Nothing moves.
board-task = Task
board-was-head = Was
board-is-head = Is
board-by-head = By
board-at-the-root = ; at the root:
board-task-new = new
board-task-gone = gone
board-group-stays = stays:
board-weights = Weights
board-figure = Figure
board-money = Money

## people and devices

board-give-device = Give a device a sign-in
board-name-hint = as it will stand in the record
board-station = Station
board-station-hint = where the device stands: cold bench
board-may = May
board-may-work = work, and write in the record
board-may-look = look on
board-make-sign-in = Make a sign-in
board-neither-cost = Neither sees what anything costs. Instructors are added at the machine:
board-signed-in-now = Signed in now
board-everybody = Everybody
board-role = Role
board-unused-ends = Unused, it ends
board-role-instructor = instructor
board-role-learner = learner
board-role-viewer = viewer
board-no-passphrase = , no passphrase
board-has-left = Has left
board-given-for = For
board-given-once = , once.
board-look-at-square = Look at the square with the tablet's camera. Or open
board-and-type = and type
board-own-name = This page was opened by this machine's own name, which no tablet can reach:
board-open-by-network = open the board by its address on the network and make the sign-in there.
board-shown-once = It is shown this once. A new one for the same person and station makes it void, and so do five wrong numbers.
board-square-code = the sign-in as a square code
board-is-signed-out = { $name } is signed out there.
board-was-not-signed-in = { $name } was not signed in there any more.
board-left-out = has left and is signed out everywhere.
board-entries-stay = The entries stay.

## recipes, their revisions, what a plan is made from

board-pages-wrong = The pages on record do not read together ({ $n } mistakes); the board goes on with the book before them
board-mend-page = mend the page below; the book is taken as soon as it reads
board-change-met = A change by { $who } to { $page } met revision { $n } and is in neither:
board-settle-it = settle it
board-n-steps =
    { $n ->
        [one] { $n } step
       *[other] { $n } steps
    }
board-revision-n = revision { $n }
board-revision-n-head = Revision { $n }
board-paste-measures = Paste a recipe in kitchen measures
board-book-zip = The whole book as files (zip)
board-other-pages = Other pages of the book
board-page = Page
board-holds = Holds
board-revision = Revision
board-saved = Saved
board-page-book = the name of the book
board-page-recipe = a recipe
board-page-site = a kitchen: people, machines, suppliers, prices
board-page-event = an event
board-page-lists = ingredients and dishes
board-page-unread = nothing the book reads
board-it-holds = It holds { $what }.
board-revisions-not-kept = Revisions are not kept
board-they-end-with = : they end with the program. Start it with
board-to-keep-them = to keep them.
board-revisions-of = Revisions of { $title }
board-what-changed = What changed
board-take-it-back = Take it back
board-now-brackets = (now)
board-against-revision = against revision { $n }
board-the-first = the first
board-taken-out = · taken out of the book
board-against-now = against now
board-put-back = put revision { $n } back
board-from-revision = From revision
board-to-revision = To revision
board-what-differs = What differs
board-back-to-page = Back to the page
board-no-event-no-figures = No event uses it, so there are no figures to set side by side.
board-title-from-to = { $title }: revision { $from } to { $to }
board-in-the-text = In the text
board-texts-the-same = Nothing: the two texts are the same.
board-in-the-figures = In the figures
board-event = Event
board-figures-of-it = Figures of it
board-both-as-now = Both with the other pages of the book as they are now.
board-all-revisions = All revisions
board-book-not-with = The book as it is now does not read with revision { $n }:
board-so-no-figures = so there are no figures of it
board-becomes-of-it = what becomes of it
board-line = line
board-text-inline = text
board-line-out = out
board-line-in = in
board-first-lines = The first { $n } of { $all } lines are shown.
board-was = was
board-tasks-move-stay = { $moved } tasks move, { $stayed } stay
board-decide-head = Decide
board-no-clock-holds = There is no clock that holds
board-windows-head = Windows
board-window-what = Step, and what it is to reach
board-window-was = Was: thin, usual, thickest piece
board-made-from-number = Made from book number
board-pages-at-revisions = { $n } pages at their revisions
board-recipe-inline = Recipe:
board-made-from-title = What this plan is made from
board-shipped-table = The shipped table of ingredients is part of the program and has no revision.
board-put-on-record = Put this plan on record
board-on-record = On record
board-no-plan-kept = No plan of this event is on record yet.
board-with-inline = , with
board-another-now = (another now)

## a recipe as it is worked

board-revisions = Revisions
board-rev-saved = Revision { $n } is saved. Plans are made from it now.
board-rev-same = Nothing was saved: revision { $n } says the same already.
board-rev-theirs = Revision { $n } stays. What you wrote is let go; it stays on record.
board-keeps = keeps
board-n-days = { $n } days
board-from-at-most = from { $step }, at most { $at }
board-product = product
board-bought-beyond = bought beyond the need
board-is-all-made = is all made
board-stays-in-store = stays in the store
board-base-is = 100 % is
board-base-inflow = : what flows in, weighed
board-base-made = : what is made here, before any loss
board-base-cover = : { $n } times what flows in, as a liquor
board-made-in-whole = , made in whole { $mass }
board-written-for = ; grams and measures are written for { $mass }
board-together-of = together, of { $base }
board-amount-load = { $amount } a load
board-amount-piece = { $amount } a piece
board-pieces-of = { $name }, pieces of { $mass }
board-of-step = step { $id }
board-fact-from = from
board-fact-yield = yield
board-low-to-high = , { $low } to { $high }
board-fact-thickness = thickness
board-piece-open = { $shape } { $size }, { $faces } open
board-fact-reach = to reach
board-at-air = at { $air }
board-fact-runs = runs by itself
board-core-for = core { $core } for { $hold }
board-fact-every = every
board-fact-keeps = keeps, on the plan
board-fact-wait = wait
board-fact-machines = machines
board-goal-salt-end = { $n } % of the salt it ends at
board-goal-water-phase = { $n } % salt in the water where salt comes last
board-goal-salt-mean = { $low } to { $high } % salt, mean
board-goal-loss = { $n } % of its weight lost
board-goal-cold = { $t } or below everywhere
board-goal-acid = { $n } % of the acid it ends at, at the centre
board-time-each = { $time } each
board-time-a-kg = { $time } a kg
board-n-people = , { $n } people
board-fact-hands = hands
board-at-once = at once
board-wait-best = , best { $time }
board-wait-at-most = , at most { $t }
board-wait-grows = ; grows with thickness squared
board-wait-span = { $min } to { $max }
board-for-head = For { $name }
board-reach-head = To reach
board-thin-head = Thin piece
board-usual-head = Usual
board-thickest-head = Thickest
board-not-computed-inline = not computed:
board-batch-link = Weights, clock and verdicts of this batch
board-what-uses = What uses it
board-used-by-none = No dish and no recipe of the book.
board-use-dish = dish:
board-use-recipe = recipe:
board-use-event = event:

## the picture of a day, names of tasks

board-nothing-this-day = Nothing is planned on this day.
board-now = now
board-closed = closed
board-told = { $name }: { $start } to { $end }, may start from { $earliest } to { $latest }
board-service = service
board-runs = runs
board-round-n = round { $n }
board-load-n = load { $n }

## a page being edited, two changes that met, a look before saving

board-this-is-text-of = This is the text of
board-saved-becomes = Saved, it becomes revision { $n }; the ones between stay.
board-nothing-saved = nothing is saved
board-says-what-revision = The text says what revision { $n } says.
board-reads-no-event = The book reads with it. No event uses it yet, so there are no figures to set side by side.
board-edit-title = Edit { $title }
board-page-itself = The page itself,
board-made-from-revision = Made from revision { $n }.
board-a-new-page = A new page.
board-figures-change = The figures change as you write; nothing is saved before you say so.
board-figures-of = Figures of
board-look-act = Look
board-save = Save
board-back-unsaved = Back without saving
board-against-saved = Against the book as it is saved:
board-usual-changes = The usual changes
board-field-writes = A field writes its value into the text, where it stands; the rest of the page stays as it is.
board-the-page = the page
board-edit-recipe = Edit steps and formula
board-edit = Edit
board-two-changed = Two changed { $title }
board-not-saved-met = Not saved: { $who } saved revision { $n } while you were writing
board-on-revision = on revision { $n }
board-what-you-wrote = what you wrote
board-kept-whole = is kept, whole, until this is settled; it stands below
board-choose-way = choose one of the ways on
board-ways-on = Ways on
board-mine-on-theirs = Put mine on top of theirs
board-go-together = The two changes touch different lines and go together. You look at the result before it is saved.
board-both-between-marks =
    { $n ->
        [one] { $n } place was changed by both: both versions stand there between marks, and it can be saved once you have chosen.
       *[other] { $n } places were changed by both: both versions stand there between marks, and it can be saved once you have chosen.
    }
board-mine-whole = Use my text whole
board-mine-whole-note = It takes the place of theirs, and their change is undone. It stays among the revisions.
board-write-anew = Write it anew on theirs
board-write-anew-note = Their text to write in, yours beside it.
board-take-theirs = Take theirs
board-take-theirs-note = Revision { $n } stays; what you wrote is let go. It stays on record.
board-theirs-to-yours = What differs: from theirs to yours
board-they-changed = What they changed
board-you-changed = What you changed
board-nothing = Nothing.
board-your-text-whole = Your text, whole
board-their-text-whole = Their text, whole
board-this-is = This is
board-their-text = their text
board-revision-inline = , revision { $n }
board-stands-to-take = What you wrote stands here to take from:
board-your-text = Your text
board-mine-is-whole = your text whole
board-takes-place-of = . Saved, it takes the place of revision { $n }
board-stays-among = which stays among the revisions.
board-change-on-top = your change on top of revision { $n }
board-both-choose-there =
    { $n ->
        [one] { $n } place was changed by both: choose there, between <<< and >>>.
       *[other] { $n } places were changed by both: choose there, between <<< and >>>.
    }
board-look-then-save = Look at it, then save.
board-mistakes =
    { $n ->
        [one] { $n } mistake; { $so }
       *[other] { $n } mistakes; { $so }
    }
board-line-column = line { $line }, column { $column }:
board-did-you-mean = (did you mean
board-first-listed = The first { $n } are listed.
board-fields-not-written = The fields are not written into the text; nothing is saved

## a recipe pasted in kitchen measures

board-measures-us = United States, a cup of 236.6 mL
board-measures-metric = metric, a cup of 250 mL
board-measures-imperial = imperial, a cup of 284.1 mL
board-paste-title = Paste a recipe
board-one-a-line = One ingredient a line, as it is written:
board-asked-not-guessed = . What a line does not say is asked, never guessed.
board-its-name = Its name
board-whose-cups = Whose cups and spoons
board-does-not-say = the page does not say
board-ingredients-a-line = Ingredients, one a line (or a schema.org Recipe as JSON-LD)
board-done-a-line = What is done, a step a line
board-read-it = Read it
board-line-n = Line { $n }:
board-line-by-line = Line by line
board-n-settled = { $n } settled,
board-n-to-settle = { $n } to settle
board-take-answers = Take these answers
board-the-draft = The draft
board-by-density = by its density or the weight of a piece
board-book-recipe = (a recipe of the book)
board-asked-head = Asked:
board-how-much-instead = How much, instead of { $was }
board-nothing-inline = nothing
board-what-instead = Of what, instead of { $was }
board-choose = choose
board-a-page-of-book = A page of the book,
board-draft-open = . It is not saved, and cannot be before its { $n } open questions are settled and taken out.
board-go-on-editor = Go on in the editor

## left over of the papers

board-n-pages =
    { $n ->
        [one] { $n } page
       *[other] { $n } pages
    }
board-empty-box = An empty box is printed
board-for-signs = for signs the face has not:
