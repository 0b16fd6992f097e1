# Mots de la cuisine : personnes, emballages, allergènes, états, lieux.

role-learner = élève
role-technician = technicien
role-cook = cuisinier
role-late-cook = cuisinier du soir
count-cover =
    { $n ->
        [one] {$n} couvert
       *[other] {$n} couverts
    }
count-learner =
    { $n ->
        [one] {$n} élève
       *[other] {$n} élèves
    }
pack-fish =
    { $n ->
        [one] poisson
       *[other] poissons
    }
pack-bunch =
    { $n ->
        [one] botte
       *[other] bottes
    }
pack-pack =
    { $n ->
        [one] paquet
       *[other] paquets
    }
pack-loaf =
    { $n ->
        [one] pain
       *[other] pains
    }
pack-tub =
    { $n ->
        [one] contenant
       *[other] contenants
    }
pack-bulb =
    { $n ->
        [one] bulbe
       *[other] bulbes
    }
pack-jar =
    { $n ->
        [one] pot
       *[other] pots
    }
pack-bottle =
    { $n ->
        [one] bouteille
       *[other] bouteilles
    }
pack-lemon =
    { $n ->
        [one] citron
       *[other] citrons
    }
pack-log =
    { $n ->
        [one] bûche
       *[other] bûches
    }
pack-set =
    { $n ->
        [one] ensemble
       *[other] ensembles
    }
pack-head =
    { $n ->
        [one] pied
       *[other] pieds
    }
pieces =
    { $n ->
        [one] {$n} pièce
       *[other] {$n} pièces
    }
pieces-each =
    { $n ->
        [one] {$n} par pièce
       *[other] {$n} par pièce
    }
times =
    { $n ->
        [one] {$n} fois
       *[other] {$n} fois
    }
state-raw = cru
state-ready = prêt à manger
state-cooked = cuit
state-pickled = mariné, tenu au froid
state-cured-not-smoked = salé à sec, non fumé
state-brined-not-smoked = saumuré, non fumé
state-hot-smoked = fumé à chaud
state-cold-smoked = fumé à froid, non cuit
state-dry-cured-hung = salé à sec et séché, non cuit
allergen-milk = lait
allergen-egg = œuf
allergen-fish = poisson
allergen-crustacean = crustacés
allergen-shellfish = crustacés et mollusques
allergen-mollusc = mollusques
allergen-tree-nut = noix
allergen-peanut = arachide
allergen-wheat = blé
allergen-wheat-canada = blé et triticale
allergen-gluten = céréales avec gluten
allergen-soy = soya
allergen-sesame = sésame
allergen-mustard = moutarde
allergen-celery = céleri
allergen-lupin = lupin
allergen-sulphites = sulfites
label-word-milk = lait
label-word-egg = œuf
label-word-fish = poisson
label-word-crustacean = crustacé
label-word-mollusc = mollusque
label-word-tree-nut = noix
label-word-almond = amande
label-word-hazelnut = noisette
label-word-walnut = noix de Grenoble
label-word-cashew = noix de cajou
label-word-pecan = pacane
label-word-brazil-nut = noix du Brésil
label-word-pistachio = pistache
label-word-macadamia = macadamia
label-word-pine-nut = pignon
label-word-chestnut = châtaigne
label-word-coconut = noix de coco
label-word-peanut = arachide
label-word-wheat = blé
label-word-rye = seigle
label-word-barley = orge
label-word-oats = avoine
label-word-triticale = triticale
label-word-gluten = gluten
label-word-soy = soya
label-word-sesame = sésame
label-word-mustard = moutarde
label-word-celery = céleri
label-word-lupin = lupin
label-word-sulphites = sulfites
allergens-contains = Contient : { $list }
allergens-may = Peut contenir, lire l’étiquette : { $list }
allergens-unknown = Inconnu, personne n’a vérifié : { $list }
allergens-none-on-labels = Rien de la liste du lieu sur les étiquettes lues
allergens-not-looked-up = Allergènes : non vérifiés. Demander avant de servir
place-us = États-Unis, famille du Food Code
place-canada = Canada
place-england = Angleterre
place-eu = Union européenne
kit-probe = sonde à cœur
kit-usual = couteau, planche, bac
nobody = personne
service = service
smoke-on = oui
smoke-off = non
shelf-ready = haut : prêt
shelf-raw = bas : cru
by-the-piece = à la pièce
per-kilogram = le kg
per-pack = l’unité
no-substitute = aucun : demander
each-load = chaque charge
made-here = fait ici
diet-vegetarian = végétarien
diet-vegan = végétalien
diet-no-pork = sans porc
diet-no-alcohol = sans alcool
diet-pregnancy = enceinte : avis habituel sur ce qui n’est pas cuit
