# Ce qui est au tableau : le cadre de chaque page, titres, têtes de colonnes, boutons, champs.

## frame

board-events = Événements
board-recipes = Recettes
board-bench = Calculs
board-sources = Sources
board-today = Aujourd’hui
board-plan = Plan
board-weigh = Peser
board-cold-store = Chambre froide
board-guests = Convives
board-order = Commande
board-papers = Papiers
board-cost = Coût
board-record = Registre
board-verdicts = Verdicts
board-why = Pourquoi
board-skip = Aller à la page même
board-rules = règles
board-variance = dérogation et plan
board-none-named = aucun indiqué
board-not-evidence = Un plan n’est pas une preuve : ce qui est salé, cuit ou refroidi se démontre par les lectures d’un instrument vérifié.
board-local-first = Le code local et le plan approuvé par votre autorité passent d’abord.
board-plan-sentences = Les phrases du plan sont encore en anglais.
board-kitchen = Cuisine
board-this-event = Cet événement
board-what-if = Et si :
board-what-changes = ce qui change
board-as-book = selon le livre
board-how-reached = comment on y arrive

## the choice, who is here

board-language = Langue
board-sign-in = Se connecter
board-people-devices = Personnes et appareils
board-sign-out = Se déconnecter
board-written-as = Noté au nom de
board-who-needed = Qui (requis)

## trouble

board-expected = attendu :
board-do-now = à faire maintenant :
board-not-here = Pas ici
board-not-taken = Pas accepté
board-not-opened = Pas ouvert
board-too-often = Trop souvent
board-too-large = Trop long
board-not-written-down = Pas noté
board-being-planned = Plan en calcul
board-something-failed = Une panne
board-nothing-changed = Rien n’a été changé. Revenir d’une page : ce qui a été saisi y est encore.
board-all-events = Tous les événements

## what happened, above every page

board-as-planned-title = Tel que prévu
board-without-written = , sans ce qui a été noté
board-as-it-stands = dans l’état actuel
board-replanned-from = Replanifié d’après
board-what-moved = ce qui a bougé
board-as-planned = tel que prévu
board-not-counted = Non compté tant que ce n’est pas corrigé :
board-last = , la dernière
board-expected-inline = attendu :
board-entries =
    { $n ->
        [one] { $n } inscription
       *[other] { $n } inscriptions
    }
board-open-deviations-n =
    { $n ->
        [one] { $n } écart ouvert
       *[other] { $n } écarts ouverts
    }
board-entry-n = inscription { $n } :
board-correct-entry = corriger l’inscription { $n }
board-as-of = État à { $hour }. Recharger la page pour ce qui est venu depuis.

## Today

board-clock-of = Horloge du
board-clock-legend = Plein : les mains. Rayé : va tout seul. Trait à bouts marqués : jusqu’où le début peut glisser. Ombré : le bâtiment est fermé.
board-as-if = Vu comme s’il était
board-kitchen-clock = , à l’horloge de la cuisine.
board-days = Jours
board-at = à
board-nothing-in-hand = Rien en cours.
board-until = jusqu’à
board-next-hours = Les trois prochaines heures
board-nothing-until = Rien ne commence ni ne finit avant
board-next-at = ; ensuite à
board-clock = Horloge
board-what = Quoi
board-who = Qui
board-latest = Au plus tard
board-start = début
board-stop = fin
board-now-or-never = maintenant ou jamais
board-who-where = Qui est où
board-standing = En attente maintenant
board-since = Depuis
board-goes-on = Reprend
board-not-before = Pas avant
board-left = restants)
board-out-of-limits = Hors limites
board-none-broken = Aucun verdict de ce plan n’est enfreint;
board-not-shown-yet = ce qui n’est pas encore démontré

## buttons of the day

board-act-temperature = Température
board-act-received = Reçu
board-act-start = Commencer
board-act-done = Fait
board-act-ph = Lire le pH
board-act-stopped = Il s’est arrêté
board-by-piece = Pesé pièce par pièce
board-together = , ensemble
board-not-on-it = . Le plan n’en tient pas compte.
board-all-of-it = C’est tout
board-taken-where = Supposé là où rien n’a été noté
board-planned-before = Prévu avant maintenant, non noté

## limits

board-open-deviations = Écarts ouverts
board-limit = limite
board-margin = marge
board-decide = Décider
board-go-on = Continuer de là
board-newest = Dernières lectures
board-reading = Lecture
board-when = Quand
board-limit-head = Limite
board-outside = HORS LIMITE
board-no-limit = aucune limite ici
board-one-beside-one = Une lecture à côté d’une limite; ce qu’un registre entier démontre est sous Registre.
board-the-event = l’événement

## under way

board-under-way = En cours, selon ce qui a été noté
board-has-hour = a l’heure.
board-the-record = le registre
board-since-inline = depuis
board-ends = fin
board-over-time = temps dépassé
board-by-length = selon la durée du plan
board-no-length = le plan ne lui donne pas de durée
board-hold-not-judged = palier non jugé
board-hold-not-started = palier non commencé
board-lost = , perdues :
board-hold-interrupted = palier interrompu
board-by-record = selon le registre
board-not-judged = non jugé :
board-no-reading-yet = aucune lecture encore
board-by-itself = va tout seul
board-way-not-there = { $limit }, pas encore atteint
board-core-limit = cœur { $core } °C
board-coldest = le plus froid { $core } °C ({ $probe })
board-started-corrected = Commencé, puis corrigé par l’inscription { $n } :
board-not-every-probe = ; les sondes n’ont pas encore toutes été lues à leur température, à { $gap } d’écart au plus
board-starts-when = ; il commence quand chaque sonde est à { $core } °C
board-interrupted-at = à { $held } de { $need } min : pas de lecture de chaque sonde depuis plus de { $gap }; il recommence à la prochaine
board-hold-at = palier : { $held } de { $need } min
board-probes-read =
    { $n ->
        [one] { $n } sonde, lue il y a
       *[other] { $n } sondes, toutes lues il y a
    }
board-ago-at = (à { $hour })
board-loads =
    { $n ->
        [one] { $n } charge
       *[other] { $n } charges
    }
