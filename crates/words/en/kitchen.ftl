# Words of the kitchen: people, packs, allergens, states, places.

role-learner = learner
role-technician = technician
role-cook = cook
role-late-cook = late cook
count-cover =
    { $n ->
        [one] {$n} cover
       *[other] {$n} covers
    }
count-learner =
    { $n ->
        [one] {$n} learner
       *[other] {$n} learners
    }
pack-fish =
    { $n ->
        [one] fish
       *[other] fish
    }
pack-bunch =
    { $n ->
        [one] bunch
       *[other] bunches
    }
pack-pack =
    { $n ->
        [one] pack
       *[other] packs
    }
pack-loaf =
    { $n ->
        [one] loaf
       *[other] loaves
    }
pack-tub =
    { $n ->
        [one] tub
       *[other] tubs
    }
pack-bulb =
    { $n ->
        [one] bulb
       *[other] bulbs
    }
pack-jar =
    { $n ->
        [one] jar
       *[other] jars
    }
pack-bottle =
    { $n ->
        [one] bottle
       *[other] bottles
    }
pack-lemon =
    { $n ->
        [one] lemon
       *[other] lemons
    }
pack-log =
    { $n ->
        [one] log
       *[other] logs
    }
pack-set =
    { $n ->
        [one] set
       *[other] sets
    }
pack-head =
    { $n ->
        [one] head
       *[other] heads
    }
pieces =
    { $n ->
        [one] {$n} piece
       *[other] {$n} pieces
    }
pieces-each =
    { $n ->
        [one] {$n} a piece
       *[other] {$n} a piece
    }
times =
    { $n ->
        [one] {$n} time
       *[other] {$n} times
    }
state-raw = raw
state-ready = ready to eat
state-cooked = cooked
state-pickled = pickled, kept cold
state-cured-not-smoked = cured, not smoked
state-brined-not-smoked = brined, not smoked
state-hot-smoked = hot-smoked
state-cold-smoked = cold-smoked, not cooked
state-dry-cured-hung = dry-cured and hung, not cooked
allergen-milk = milk
allergen-egg = egg
allergen-fish = fish
allergen-crustacean = crustacean shellfish
allergen-shellfish = crustaceans and molluscs
allergen-mollusc = molluscs
allergen-tree-nut = tree nuts
allergen-peanut = peanut
allergen-wheat = wheat
allergen-wheat-canada = wheat and triticale
allergen-gluten = gluten cereals
allergen-soy = soy
allergen-sesame = sesame
allergen-mustard = mustard
allergen-celery = celery
allergen-lupin = lupin
allergen-sulphites = sulphites
label-word-milk = milk
label-word-egg = egg
label-word-fish = fish
label-word-crustacean = crustacean
label-word-mollusc = mollusc
label-word-tree-nut = tree nut
label-word-almond = almond
label-word-hazelnut = hazelnut
label-word-walnut = walnut
label-word-cashew = cashew
label-word-pecan = pecan
label-word-brazil-nut = Brazil nut
label-word-pistachio = pistachio
label-word-macadamia = macadamia
label-word-pine-nut = pine nut
label-word-chestnut = chestnut
label-word-coconut = coconut
label-word-peanut = peanut
label-word-wheat = wheat
label-word-rye = rye
label-word-barley = barley
label-word-oats = oats
label-word-triticale = triticale
label-word-gluten = gluten
label-word-soy = soy
label-word-sesame = sesame
label-word-mustard = mustard
label-word-celery = celery
label-word-lupin = lupin
label-word-sulphites = sulphites
allergens-contains = Contains: { $list }
allergens-may = May contain, read the label: { $list }
allergens-unknown = Not known, nobody has looked: { $list }
allergens-none-on-labels = None of the place’s list on the labels that were read
allergens-not-looked-up = Allergens: not looked up. Ask before serving
place-us = United States, Food Code family
place-canada = Canada
place-england = England
place-eu = European Union
kit-probe = core probe
kit-usual = knife, board, tub
nobody = nobody
service = service
smoke-on = on
smoke-off = off
shelf-ready = top: ready
shelf-raw = bottom: raw
by-the-piece = by the piece
per-kilogram = a kg
per-pack = each
no-substitute = none: ask
each-load = each load
made-here = made here
diet-vegetarian = vegetarian
diet-vegan = vegan
diet-no-pork = no pork
diet-no-alcohol = no alcohol
diet-pregnancy = pregnant: usual caution with what is not cooked
