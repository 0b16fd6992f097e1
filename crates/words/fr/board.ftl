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

## Record

board-not-kept = Ce registre n’est pas conservé
board-ends-with =  : il finit avec le programme. Le démarrer avec
board-to-keep = pour en conserver un.
board-sealed-with = en tout; la dernière est scellée par
board-seal-tells = . Noté ailleurs, ce sceau dit si quelque chose d’avant a été changé depuis.
board-which-piece = Quelle pièce, plaque, sonde ou ligne
board-kind-hint = ou de quelle sorte : nitrite, smoker-stopped
board-part-hint = probe 2 (sonde 2)
board-reading-unit = Lecture, avec son unité
board-when-not-now = Quand, si ce n’est pas maintenant
board-words = Remarques
board-enter = Inscrire
board-correcting = Une lecture remplace celle qui est fausse. Sans lecture, l’inscription est retirée; avec une heure, elle est notée de nouveau à cette heure.
board-nothing-written = Rien n’a été noté. Ce qui a été saisi est ci-dessous.
board-unit-shown = Unité, comme l’instrument la montre
board-what-happened = Ce qui s’est passé
board-of-what = De quoi
board-event-whole = l’événement entier
board-more-fields = Pièce, heure, remarques
board-write-down = Noter
board-nothing-yet = Rien n’est encore noté.
board-number = No
board-corrected-by = corrigé par
board-correct = corriger
board-readings-show = Ce que les lectures démontrent
board-may-be-done = Ce qui peut être fait maintenant
board-asks = demande
board-against = contre
board-next = Ensuite :

## Weigh

board-needed-of = requis de
board-made = faits
board-portions-of = portions de
board-of-base = de la base
board-computed = calculé
board-weigh-out = peser
board-each-load = chaque charge
board-each-piece = chaque pièce
board-pieces = pièces
board-weigh-act = peser

## a weight that looks like a slip

board-which-unit = Quelle unité était-ce ?
board-look-at-unit = Regarder l’unité sur la balance. Rien n’est encore noté.
board-neither = Ni l’une ni l’autre : peser de nouveau
board-too-much = trop
board-too-little = trop peu
board-nothing-on-scale = rien sur la balance
board-stopped = Arrêté
board-nothing-goes-in = Rien n’entre dans le lot.
board-not-stored-until = . L’inscription n’est pas conservée avant qu’un instructeur ait regardé la balance, l’unité et la feuille et dise pourquoi elle tient.
board-instructor-other = Instructeur (autre que qui a pesé)
board-reason = Raison
board-decide-both = Décider, et noter les deux
board-weigh-again = Peser de nouveau

## a deviation

board-margin-inline = marge
board-decided = Décidé
board-entry-inline = , inscription
board-settled = Réglé.
board-open-ways = Les voies ouvertes
board-then = ensuite :
board-cause-hint = la cause, qui a été consulté, les grammes jetés
board-write-decision = Noter la décision
board-outside-its-limit = Hors de sa limite

## Lot

board-label = Étiquette
board-where-went = Où c’est allé
board-plan-verdicts = Verdicts du plan
board-no-rule = Aucune des règles d’ici n’en parle.
board-every-figure = Toutes ses valeurs
board-something-outside = Quelque chose est hors de sa limite
board-written-down = Noté
board-step = Étape
board-taken-back = retiré
board-ready = prêt
board-discard-by = à écouler avant la fin du
board-no-allergen-named = aucun allergène de ce lieu n’est nommé sur les étiquettes du livre; les lire
board-contains = contient
board-label-note = Du plan dans l’état actuel; ce qui est scellé sur le contenant est ce qui a été fait.
board-in-inline = dans
board-no-plate = dans aucune assiette de cet événement
board-went-note = Selon le plan : quelle assiette est allée à qui n’est pas noté ici.
board-mean-note = Calculé pour le lot entier d’après la formule et les rendements : une moyenne, jamais le cœur.
board-lot-water-phase = sel en phase aqueuse, moyenne
board-lot-salt = sel
board-lot-water = eau
board-lot-activity = activité de l’eau
board-lot-sugar = sucre
board-lot-nitrite = nitrite, ajouté
board-lot-acetic = acide acétique
board-start-head = Début
board-end-head = Fin
board-may-start = Peut commencer
board-write-down-link = noter
board-to = à
board-windows = Fenêtres calculées
board-thin-piece = pièce mince
board-usual-piece = pièce courante
board-thickest-piece = pièce la plus épaisse
board-thickest-slow = la plus épaisse, si c’était lent
board-house-own = celle de la maison
board-not-computed = Non calculé :

## Cold store

board-cold-machines = Chambre froide et appareils
board-discard-head = À écouler avant la fin du
board-no-dates = Rien de cet événement ne porte de date.
board-days-note = Les jours de la maison, le jour de fabrication étant le jour 1, et l’élément le plus hâtif.
board-out-of-order = en panne
board-not-used = non utilisé par cet événement
board-fullest = au plus plein
board-so-at-least = , donc au moins
board-free = libres
board-beside-event = à côté de cet événement
board-in-head = Entrée
board-out-head = Sortie
board-places = places

## Guests

board-specials = Assiettes spéciales
board-no-specials = Aucune indiquée pour cet événement. Un changement tel que
board-adds-one = en ajoute une, ici et au plan.
board-of = de
board-for = pour
board-must-not-have = Le convive ne doit pas avoir
board-or-eats = ou mange
board-seat = Place
board-can-eat = Ce convive peut-il le manger ?
board-matrix = Ce qu’il y a dans quoi, selon les étiquettes du livre
board-dish-part = Plat et élément
board-matrix-note = Chaque signe ouvre l’ingrédient qui est derrière. Les étiquettes passent d’abord : les lire.
board-swap = remplacement
board-correct-entry-head = Corriger l’inscription { $n }
board-of-entry = de { $n }
board-from-times = À partir de { $times } fois l’écart, c’est arrêté (valeur de la maison).
board-is-wanted = { $found } là où il faut { $wanted } : { $what }
board-times-off = { $times } fois { $many }
board-put-in = mettre { $all } : { $off } s’évaporent
board-hold-back = commencer avec { $first }, garder { $rest }
board-caution = Attention, { $step }, { $about } :
board-places-note = Sel en phase aqueuse de la pièce la plus épaisse à la sortie : moyenne { $mean } %, surface { $surface } %, là où il arrive en dernier { $core } %.
board-guest-asked = On demande au convive, on lit l’étiquette.
board-plates =
    { $n ->
        [one] { $n } assiette
       *[other] { $n } assiettes
    }
board-n-loads =
    { $n ->
        [one] { $n } charge
       *[other] { $n } charges
    }
board-kind-started = commencé
board-kind-done = terminé
board-kind-weighed = pesé
board-kind-temperature = température lue
board-kind-ph = pH lu
board-kind-received = reçu
board-kind-deviation = hors de sa limite
board-kind-decision = décidé
board-kind-note = remarque

## held lots, signs of the matrix

board-discarded = JETÉ
board-held = RETENU
board-state-free = rien sur les étiquettes
board-state-under = sous la limite
board-state-may = peut contenir
board-state-unknown = inconnu
board-state-contains = contient

## cores over time

board-core = Cœur,
board-no-clock-to-draw = Il n’y a pas d’horloge où le dessiner.
board-not-drawn = Non dessiné :
board-prediction = . Une prévision ne démontre rien; les sondes, oui.
board-nothing-read = Rien n’est encore lu.
board-core-axis = cœur

## verdicts

board-broken-head = Enfreints
board-not-shown-head = Non démontrés
board-shown-head = Démontrés
board-counted-on = compté sur :
board-verify = ; à vérifier auprès de votre autorité

## events

board-bench-questions-link = Les questions de calcul
board-bench-such-as =  : combien de sel, quand ça sort, est-ce froid assez vite.

## the plan of an event

board-plates-label = assiettes
board-clock-label = horloge
board-food-bought = aliments, achetés
board-work = travail
board-verdicts-label = verdicts
board-broken = enfreints
board-not-shown = non démontrés,
board-shown = démontrés
board-clock-proved = tient, aucune meilleure
board-clock-holds = tient
board-clock-impossible = impossible
board-clock-not-found = non trouvée
board-because = parce que
board-ways-out = Issues
board-no-way-out = Rien de ce qui a été essayé ne donne une horloge.
board-holds-too = Tient aussi :
board-no-help = N’aide pas :
board-cut-short = L’effort s’est arrêté avant que tout soit essayé.
board-components = Éléments
board-what-if-head = Et si
board-covers = Couverts
board-covers-hint = combien paient
board-serve-moves = L’heure du service change
board-people-at-once = Personnes à la fois
board-people-hint = -2 : deux sont absents
board-another-change = Autre changement
board-change-hint = CLÉ=VALEUR : un poids, une épaisseur, un appareil, un prix
board-see-changes = Voir ce qui change
board-every-key = Toutes les clés qui peuvent être changées (

## order

board-order-by = Commander avant
board-comes = , arrive
board-item = Article
board-spec = Description
board-buy = Acheter
board-needed = Requis
board-price = Prix
board-or = ou

## cost

board-food-needed = aliments, requis
board-labour = main-d’œuvre
board-prime = coût de base : aliments et main-d’œuvre
board-budget = budget
board-against-it = par rapport au budget
board-target-price = prix à la part d’aliments visée
board-work-head = Travail
board-time = Durée
board-an-hour = L’heure
board-paid-present = payé pour sa présence
board-food-by-component = Aliments par élément
board-component = Élément
board-bought = Acheté
board-per-kg = Le kilo fait

## sources

board-only-read = Seul un texte lu lui-même peut rendre un verdict
board-shown-word = démontré
board-others-break = ; les autres peuvent en enfreindre un : à vérifier auprès de votre autorité.
board-texts = Textes, tables et programmes
board-key = Clé
board-title = Titre
board-how-far = Lu jusqu’où
board-rules-head = Règles
board-row = Ligne
board-place = Lieu
board-what-for = Pour quoi
board-text = Texte

## why

board-part-of-name = Partie d’un nom
board-find = Chercher
board-figures = valeurs
board-from = de

## bench

board-bench-questions = Questions de calcul
board-all-bench = Toutes les questions de calcul
board-caution-inline = Attention :
board-shown-by-entered = Démontré par ce qui a été saisi; le code de votre lieu passe d’abord.
board-answer = Répondre
board-needed-inline = (requis)
board-air-not-drawn =
    { $n ->
        [one] { $n } lecture de l’air n’est pas dessinée.
       *[other] { $n } lectures de l’air ne sont pas dessinées.
    }
board-aside =
    { $n ->
        [one] { $n } lecture à plus de { $hours } h de ce passage n’est pas dessinée.
       *[other] { $n } lectures à plus de { $hours } h de ce passage ne sont pas dessinées.
    }
board-chart-title = Cœur pendant { $step }, prévu et mesuré
board-chart-since = depuis { $at }
board-ways-plans =
    { $n ->
        [one] Chacune a été replanifiée par la même horloge ({ $n } plan).
       *[other] Chacune a été replanifiée par la même horloge ({ $n } plans).
    }
board-food-labour = aliments { $food }, main-d’œuvre { $labour }
board-a-cover = par { $cover }
board-paying = { $n } { $cover }s payants
board-edge = au bord : { $packs } suffiraient, il manquerait { $short } %, économie de { $saves }
board-n-more = { $n } autres : l’ouvrir
board-one-cover = couvert

## papers

board-paper-day-board = Tableau du jour
board-paper-back-plan = Plan à rebours
board-paper-prep-list = Mise en place par jour
board-paper-station-card = Fiches de poste
board-paper-formula-card = Fiches de formule
board-paper-cure-sheet = Feuilles de salaison et de saumure
board-paper-smoker-log = Registres du fumoir
board-paper-cooling-log = Registres de refroidissement
board-paper-pickle-log = Registres de marinade
board-paper-receiving-sheet = Feuilles de réception
board-paper-door-map = Plans de porte
board-paper-tub-label = Étiquettes de contenants, à découper
board-paper-plating-guide = Guides de dressage
board-paper-allergen-matrix = Tableau des allergènes
board-paper-order-sheet = Feuilles de commande
board-paper-service-brief = Consignes pour la salle
board-paper-cleaning-list = Listes de nettoyage
board-paper-emergency-card = Quand quelque chose s’arrête
board-paper-rubric = Compétences et validation
board-paper-dossier = Dossiers de lot
board-all-as-pdf = Tout en un seul PDF
board-paper = Papier
board-pages = Pages
board-print = Imprimer
board-look-head = Regarder
board-look = regarder
board-stock-us = lettre, tabloïd
board-measures = Mesures
board-metric = métriques
board-us-measures = américaines, grammes à côté
board-pdf-to-print = PDF à imprimer
board-all-papers = tous les papiers

## sign-in

board-sign-in-how = L’instructeur donne à chaque tablette de quoi se connecter : viser le carré avec la caméra, ou taper les six chiffres ici. Ils servent une fois, pendant dix minutes.
board-name = Nom
board-pin = Numéro
board-six-digits = six chiffres
board-instructor = Instructeur
board-passphrase = Phrase secrète
board-sign-in-passphrase = Se connecter avec la phrase secrète
board-no-tls = Ce qui est envoyé ici peut être lu par quiconque écoute sur ce réseau : il n’y a pas de TLS. Utiliser un réseau propre à la cuisine.
board-signs-in-as = Cet appareil se connecte au nom de
board-at-station = , au poste
board-sign-in-as = Se connecter au nom de
board-read-above = Ce qui a été lu est plus haut, sous les écarts ouverts.
board-instructor-decides = La personne responsable décide.

## what a change moves

board-changes-title = Ce qui change
board-day-and-change = La journée dans l’état actuel, et la journée avec le changement.
board-book-and-written = Le plan selon le livre, et le plan d’après ce qui a été noté.
board-no-change = Rien n’a été changé.
board-back-to-plan = Retour au plan
board-tasks-that-move = tâches qui bougent
board-n-stay =
    { $n ->
        [one] { $n } reste
       *[other] { $n } restent
    }
board-food = aliments
board-prime-short = coût de base
board-slack-left = Jeu qui reste
board-nothing-moves = Rien ne bouge.
board-task = Tâche
board-was-head = Avant
board-is-head = Après
board-by-head = Décalage
board-at-the-root = ; à l’origine :
board-task-new = nouveau
board-task-gone = retiré
board-group-stays = présence :
board-weights = Poids
board-figure = Valeur
board-money = Argent

## people and devices

board-give-device = Donner une connexion à un appareil
board-name-hint = tel qu’il sera au registre
board-station = Poste
board-station-hint = où est l’appareil : table froide
board-may = Peut
board-may-work = travailler et noter au registre
board-may-look = regarder
board-make-sign-in = Créer une connexion
board-neither-cost = Ni l’un ni l’autre ne voit ce que les choses coûtent. Les instructeurs s’ajoutent à l’ordinateur même :
board-signed-in-now = Connectés maintenant
board-everybody = Tout le monde
board-role = Rôle
board-unused-ends = Sans usage, finit
board-role-instructor = instructeur
board-role-learner = élève
board-role-viewer = observateur
board-no-passphrase = , sans phrase secrète
board-has-left = Est parti
board-given-for = Pour
board-given-once = , une fois.
board-look-at-square = Viser le carré avec la caméra de la tablette. Ou ouvrir
board-and-type = et taper
board-own-name = Cette page a été ouverte par le nom propre de cet ordinateur, qu’aucune tablette ne peut joindre :
board-open-by-network = ouvrir le tableau par son adresse sur le réseau et y créer la connexion.
board-shown-once = Elle n’est montrée que cette fois. Une nouvelle pour la même personne au même poste l’annule, et cinq mauvais numéros aussi.
board-square-code = la connexion en code carré
board-is-signed-out = { $name } n’y est plus connecté.
board-was-not-signed-in = { $name } n’y était déjà plus connecté.
board-left-out = est parti, et déconnecté partout.
board-entries-stay = Les inscriptions restent.

## recipes, their revisions, what a plan is made from

board-pages-wrong = Les pages conservées ne se lisent pas ensemble (erreurs : { $n }); le tableau continue avec le livre d’avant
board-mend-page = corriger la page ci-dessous; le livre est repris dès qu’il se lit
board-change-met = Un changement de { $who } à { $page } a rencontré la révision { $n } et n’est dans aucune :
board-settle-it = le régler
board-n-steps =
    { $n ->
        [one] { $n } étape
       *[other] { $n } étapes
    }
board-revision-n = révision { $n }
board-revision-n-head = Révision { $n }
board-paste-measures = Coller une recette en mesures de cuisine
board-book-zip = Le livre entier en fichiers (zip)
board-other-pages = Autres pages du livre
board-page = Page
board-holds = Contient
board-revision = Révision
board-saved = Enregistré
board-page-book = le nom du livre
board-page-recipe = une recette
board-page-site = une cuisine : personnes, appareils, fournisseurs, prix
board-page-event = un événement
board-page-lists = des ingrédients et des plats
board-page-unread = rien que le livre lise
board-it-holds = Elle contient { $what }.
board-revisions-not-kept = Les révisions ne sont pas conservées
board-they-end-with =  : elles finissent avec le programme. Le démarrer avec
board-to-keep-them = pour les conserver.
board-revisions-of = Révisions de { $title }
board-what-changed = Ce qui a changé
board-take-it-back = La remettre
board-now-brackets = (maintenant)
board-against-revision = par rapport à la révision { $n }
board-the-first = la première
board-taken-out = · retirée du livre
board-against-now = par rapport à maintenant
board-put-back = remettre la révision { $n }
board-from-revision = De la révision
board-to-revision = À la révision
board-what-differs = Ce qui diffère
board-back-to-page = Retour à la page
board-no-event-no-figures = Aucun événement ne l’utilise : il n’y a pas de valeurs à mettre côte à côte.
board-title-from-to = { $title } : révision { $from } à { $to }
board-in-the-text = Dans le texte
board-texts-the-same = Rien : les deux textes sont pareils.
board-in-the-figures = Dans les valeurs
board-event = Événement
board-figures-of-it = Ses valeurs
board-both-as-now = Les deux avec les autres pages du livre telles qu’elles sont maintenant.
board-all-revisions = Toutes les révisions
board-book-not-with = Le livre tel qu’il est maintenant ne se lit pas avec la révision { $n } :
board-so-no-figures = il n’y a donc pas de valeurs
board-becomes-of-it = ce qu’elle devient
board-line = ligne
board-text-inline = texte
board-line-out = retirée
board-line-in = ajoutée
board-first-lines = Les { $n } premières lignes sur { $all } sont montrées.
board-was = avant :
board-tasks-move-stay = Tâches qui bougent : { $moved }; qui restent : { $stayed }
board-decide-head = À décider
board-no-clock-holds = Aucune horloge ne tient
board-windows-head = Fenêtres
board-window-what = Étape, et ce qu’elle doit atteindre
board-window-was = Avant : pièce mince, courante, la plus épaisse
board-made-from-number = Fait d’après le livre numéro
board-pages-at-revisions =
    { $n ->
        [one] { $n } page à sa révision
       *[other] { $n } pages à leurs révisions
    }
board-recipe-inline = Recette :
board-made-from-title = D’après quoi ce plan est fait
board-shipped-table = La table d’ingrédients fournie fait partie du programme et n’a pas de révision.
board-put-on-record = Conserver ce plan
board-on-record = Conservés
board-no-plan-kept = Aucun plan de cet événement n’est encore conservé.
board-with-inline = , avec
board-another-now = (une autre maintenant)

## a recipe as it is worked

board-revisions = Révisions
board-rev-saved = La révision { $n } est enregistrée. Les plans sont faits d’après elle dès maintenant.
board-rev-same = Rien n’a été enregistré : la révision { $n } dit déjà la même chose.
board-rev-theirs = La révision { $n } reste. Ce que vous avez écrit est laissé; cela reste conservé.
board-keeps = se garde
board-n-days = { $n } jours
board-from-at-most = depuis { $step }, à { $at } au plus
board-product = produit
board-bought-beyond = acheté au-delà du requis
board-is-all-made = tout est fait
board-stays-in-store = reste en réserve
board-base-is = 100 %, c’est
board-base-inflow =  : ce qui entre, pesé
board-base-made =  : ce qui est fait ici, avant toute perte
board-base-cover =  : { $n } fois ce qui entre, en liquide
board-made-in-whole = , fait par { $mass } entiers
board-written-for = ; grammes et mesures sont écrits pour { $mass }
board-together-of = ensemble, de { $base }
board-amount-load = { $amount } par charge
board-amount-piece = { $amount } par pièce
board-pieces-of = { $name }, pièces de { $mass }
board-of-step = étape { $id }
board-fact-from = à partir de
board-fact-yield = rendement
board-low-to-high = , de { $low } à { $high }
board-fact-thickness = épaisseur
board-piece-open = { $shape } { $size }, faces ouvertes : { $faces }
board-fact-reach = à atteindre
board-at-air = à { $air }
board-fact-runs = va tout seul
board-core-for = cœur { $core } pendant { $hold }
board-fact-every = tous les
board-fact-keeps = se garde, sur le plan
board-fact-wait = attente
board-fact-machines = appareils
board-goal-salt-end = { $n } % du sel où cela finit
board-goal-water-phase = { $n } % de sel dans l’eau, là où le sel arrive en dernier
board-goal-salt-mean = { $low } à { $high } % de sel, moyenne
board-goal-loss = { $n } % de son poids perdu
board-goal-cold = { $t } ou moins partout
board-goal-acid = { $n } % de l’acide où cela finit, au centre
board-time-each = { $time } chacune
board-time-a-kg = { $time } le kilo
board-n-people = , { $n } personnes
board-fact-hands = mains
board-at-once = tout de suite
board-wait-best = , au mieux { $time }
board-wait-at-most = , à { $t } au plus
board-wait-grows = ; croît avec le carré de l’épaisseur
board-wait-span = { $min } à { $max }
board-for-head = Pour { $name }
board-reach-head = À atteindre
board-thin-head = Pièce mince
board-usual-head = Courante
board-thickest-head = La plus épaisse
board-not-computed-inline = non calculé :
board-batch-link = Poids, horloge et verdicts de ce lot
board-what-uses = Ce qui l’utilise
board-used-by-none = Aucun plat et aucune recette du livre.
board-use-dish = plat :
board-use-recipe = recette :
board-use-event = événement :

## the picture of a day, names of tasks

board-nothing-this-day = Rien n’est prévu ce jour-là.
board-now = maintenant
board-closed = fermé
board-told = { $name } : { $start } à { $end }, peut commencer de { $earliest } à { $latest }
board-service = service
board-runs = va tout seul
board-round-n = tour { $n }
board-load-n = charge { $n }

## a page being edited, two changes that met, a look before saving

board-this-is-text-of = Ceci est le texte de la
board-saved-becomes = Enregistré, il devient la révision { $n }; celles d’entre deux restent.
board-nothing-saved = rien n’est enregistré
board-says-what-revision = Le texte dit ce que dit la révision { $n }.
board-reads-no-event = Le livre se lit avec elle. Aucun événement ne l’utilise encore : il n’y a pas de valeurs à mettre côte à côte.
board-edit-title = Modifier { $title }
board-page-itself = La page même,
board-made-from-revision = Faite d’après la révision { $n }.
board-a-new-page = Une nouvelle page.
board-figures-change = Les valeurs changent à mesure qu’on écrit; rien n’est enregistré avant qu’on le demande.
board-figures-of = Valeurs de
board-look-act = Regarder
board-save = Enregistrer
board-back-unsaved = Retour sans enregistrer
board-against-saved = Par rapport au livre tel qu’il est enregistré :
board-usual-changes = Les changements courants
board-field-writes = Un champ inscrit sa valeur dans le texte, là où elle est; le reste de la page reste tel quel.
board-the-page = la page
board-edit-recipe = Modifier les étapes et la formule
board-edit = Modifier
board-two-changed = Deux ont changé { $title }
board-not-saved-met = Non enregistré : { $who } a enregistré la révision { $n } pendant que vous écriviez
board-on-revision = sur la révision { $n }
board-what-you-wrote = ce que vous avez écrit
board-kept-whole = est conservé en entier jusqu’à ce que ce soit réglé; c’est ci-dessous
board-choose-way = choisir une des voies
board-ways-on = Les voies
board-mine-on-theirs = Mettre le mien par-dessus le leur
board-go-together = Les deux changements touchent des lignes différentes et vont ensemble. On regarde le résultat avant de l’enregistrer.
board-both-between-marks =
    { $n ->
        [one] { $n } endroit a été changé par les deux : les deux versions y sont entre des marques, et on peut enregistrer après avoir choisi.
       *[other] { $n } endroits ont été changés par les deux : les deux versions y sont entre des marques, et on peut enregistrer après avoir choisi.
    }
board-mine-whole = Prendre mon texte en entier
board-mine-whole-note = Il prend la place du leur, et leur changement est défait. Il reste parmi les révisions.
board-write-anew = Réécrire sur le leur
board-write-anew-note = Leur texte où écrire, le vôtre à côté.
board-take-theirs = Prendre le leur
board-take-theirs-note = La révision { $n } reste; ce que vous avez écrit est laissé. Cela reste conservé.
board-theirs-to-yours = Ce qui diffère : du leur au vôtre
board-they-changed = Ce qu’ils ont changé
board-you-changed = Ce que vous avez changé
board-nothing = Rien.
board-your-text-whole = Votre texte, en entier
board-their-text-whole = Leur texte, en entier
board-this-is = Ceci est
board-their-text = leur texte
board-revision-inline = , révision { $n }
board-stands-to-take = Ce que vous avez écrit est ici, pour y puiser :
board-your-text = Votre texte
board-mine-is-whole = votre texte en entier
board-takes-place-of = . Enregistré, il prend la place de la révision { $n }
board-stays-among = qui reste parmi les révisions.
board-change-on-top = votre changement par-dessus la révision { $n }
board-both-choose-there =
    { $n ->
        [one] { $n } endroit a été changé par les deux : y choisir, entre <<< et >>>.
       *[other] { $n } endroits ont été changés par les deux : y choisir, entre <<< et >>>.
    }
board-look-then-save = Le regarder, puis enregistrer.
board-mistakes =
    { $n ->
        [one] { $n } erreur; { $so }
       *[other] { $n } erreurs; { $so }
    }
board-line-column = ligne { $line }, colonne { $column } :
board-did-you-mean = (vouliez-vous dire
board-first-listed = Les { $n } premières sont listées.
board-fields-not-written = Les champs ne sont pas inscrits dans le texte; rien n’est enregistré

## a recipe pasted in kitchen measures

board-measures-us = américaines, une tasse de 236,6 mL
board-measures-metric = métriques, une tasse de 250 mL
board-measures-imperial = impériales, une tasse de 284,1 mL
board-paste-title = Coller une recette
board-one-a-line = Un ingrédient par ligne, comme il est écrit :
board-asked-not-guessed = . Ce qu’une ligne ne dit pas est demandé, jamais deviné.
board-its-name = Son nom
board-whose-cups = Les tasses et cuillères de qui
board-does-not-say = la page ne le dit pas
board-ingredients-a-line = Ingrédients, un par ligne (ou une Recipe de schema.org en JSON-LD)
board-done-a-line = Ce qui se fait, une étape par ligne
board-read-it = Lire
board-line-n = Ligne { $n } :
board-line-by-line = Ligne par ligne
board-n-settled =
    { $n ->
        [one] { $n } réglée,
       *[other] { $n } réglées,
    }
board-n-to-settle = { $n } à régler
board-take-answers = Prendre ces réponses
board-the-draft = L’ébauche
board-by-density = d’après sa densité ou le poids d’une pièce
board-book-recipe = (une recette du livre)
board-asked-head = Demandé :
board-how-much-instead = Combien, au lieu de { $was }
board-nothing-inline = rien
board-what-instead = De quoi, au lieu de { $was }
board-choose = choisir
board-a-page-of-book = Une page du livre,
board-draft-open =
    { $n ->
        [one] . Elle n’est pas enregistrée, et ne peut l’être avant que sa question ouverte ({ $n }) soit réglée et retirée.
       *[other] . Elle n’est pas enregistrée, et ne peut l’être avant que ses { $n } questions ouvertes soient réglées et retirées.
    }
board-go-on-editor = Continuer dans l’éditeur

## left over of the papers

board-n-pages =
    { $n ->
        [one] { $n } page
       *[other] { $n } pages
    }
board-empty-box = Une case vide est imprimée
board-for-signs = pour les signes que le caractère n’a pas :
