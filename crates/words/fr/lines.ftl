# Phrases des papiers du poste.

not-known = inconnu
not-a-number = pas un nombre
not-computed = non calculé : { $why }
percent-of = { $pct } de : { $base }
limit-of = { $limit } ({ $title }, { $status })
load-n = charge { $n }
load-of = charge { $n } de { $all }
foot-lots =
    { $n ->
        [one] Lot {$codes}
       *[other] Lots {$codes}
    }
foot-plan = { $event } · plan { $version } · imprimé { $printed }
scale-in-parts = { $scale }, en parts d’au plus { $most }
scale-none-fine-enough = aucune balance assez fine : le peser dans un mélange pour plusieurs
day-board-legend = Barre pleine : mains. Barre vide : va tout seul. Bord épais : à ne pas manquer. Le code est celui du bac.
back-plan-legend = Barre vide : attente. Moustache : fin d’attente au plus tôt et au plus tard. Grisé : bâtiment fermé. Étoile : service.
clock-change = L’heure change pendant l’attente de { $task } : { $elapsed } passent vraiment, l’horloge montre { $wall }.
formula-under = { $code }, chaque poids à ± { $tolerance }
formula-reweigh = Peser d’abord la base. Si ce n’est pas le poids prévu, chaque ligne est son pourcentage de ce que vous avez pesé.
total-check = le total doit donner
formula-cover = Peser d’abord l’aliment : le liquide fait { $ratio } × son poids, et chaque ligne suit.
formula-made = Les lignes font le lot : les pourcentages sont du lot fini, avant perte.
formula-spare = Chaque ligne compte { $spare } en plus; il en faut { $need }.
formula-per-piece = Sur une pièce de { $piece } : { $mix } du mélange.
formula-loads =
    { $n ->
        [one] Une charge.
       *[other] {$n} charges : ce sont les poids de toutes.
    }
formula-boils-off = dont { $off } s’évaporent
formula-hold-back = en garder { $hold } de plus; goûter, puis ajouter
weights-together =
    { $n ->
        [one] {$name} : vous pesez
       *[other] {$name} : à {$n}, vous pesez ensemble
    }
weights-own =
    { $n ->
        [one] {$name} : vous pesez
       *[other] {$name} : vous pesez
    }
done-by = fini à { $hour }
hold-core = cœur à au moins { $core }, tenu { $hold }
hold-cold = puis au plus { $most }
hold-next = étape suivante de { $earliest } à { $latest }
why-line = Pourquoi : { $why }
why-dry-cure = le sel entre avec le temps et avec le carré de l’épaisseur : l’heure compte autant que le gramme.
why-brine = le sel passe de la saumure à la viande jusqu’à l’équilibre : force, poids et heures vont ensemble.
why-pump = ce qui est injecté se pèse : après moins avant, c’est la saumure restée.
why-hot-smoke = la fumée colore, la chaleur fait la différence : le cœur le plus froid décide, jamais la moyenne.
why-cold-smoke = la fumée froide ne cuit pas : seul compte le temps sous les limites.
why-chill = un refroidissement lent laisse croître les spores que la chaleur a épargnées : mince et étalé, lire le plus épais.
why-emulsify = l’huile se sépare si elle arrive plus vite que les gouttes ne se divisent : mince filet d’abord.
why-pickle = l’acide doit atteindre le centre de chaque morceau : couvert, pressé, et lu au pH-mètre.
why-brew = ce qui s’évapore est de l’eau, ni acide ni sel : la force se pèse, elle ne se goûte pas.
why-hang = c’est fini selon le poids perdu depuis l’accrochage, non selon le jour.
why-air-dry = une peau sèche et collante prend la fumée également; mouillée, elle coule.
why-fillet = ce qui reste sur l’arête est payé et non servi : le rendement de chaque poisson se pèse.
why-trim = chaque pourcentage compte sur le poids paré : parer d’abord, peser ensuite.
why-steep = le goût vient du temps et de la chaleur, non de plus d’épices.
why-strain = sous l’huile les herbes n’ont pas d’air : filtrer, refroidir aussitôt, utiliser en quelques jours.
why-carve = ce qui a été chauffé touche votre planche : rien de cru ne doit y être passé.
why-wash = l’eau sur la feuille dilue la vinaigrette et la flétrit : bien essorer.
why-cut = des morceaux égaux marinent, s’assaisonnent et se mangent également.
why-receive = ce qui arrive chaud ne se rattrape pas : lire avant de signer.
hold-clock = palier : { $hold }, chaque cœur à
hold-clock-rule = Le palier commence quand la sonde la plus froide y est. Plus bas à une lecture, il recommence. Une lecture manquante n’est jamais une réussite.
no-core-aimed-at = aucune température à cœur visée : ce n’est pas cuit
readings-rule = Trois sondes dès 5 kg, dans les pièces les plus épaisses et l’endroit le plus froid. Écrire ce qu’on lit; un trait si on n’a pas lu.
deviation = ce qui s’est passé autrement, quand, et ce qui a été fait
what-was-done = ce qui a été fait
cooling-clock-starts = l’horloge part à cette lecture
cooling-within = en moins de { $span } dès là
cooling-within-in-all = en moins de { $span } en tout
cooling-no-rule = Aucune règle du lieu pour le refroidissement n’est connue ici : demander à l’autorité.
cooling-thickest = Lire le milieu de la pièce la plus épaisse, non l’air. Une lecture manquante n’est jamais une réussite.
cooling-tick-reached = chaque heure ci-dessus a été tenue, par lecture
cooling-tick-not-reached = non tenue : personne responsable appelée, décision ci-dessous
cooling-tick-not-read = non lue : compte comme non tenue
pickle-above-target = Au-dessus de la cible : ajouter du vinaigre, remuer, attendre, relire. En dessous, c’est encore une marinade pour le frigo, jamais pour la tablette.
receiving-rule = Compter, peser, lire la température entre deux paquets, sentir, puis signer. Ce qui est refusé repart avec le livreur.
receiving-fish = Poisson : écrire l’espèce et s’il est sauvage ou d’élevage, et garder l’étiquette. Ce qui se mange cru ou fumé à froid peut demander une congélation, avec sa lettre.
receiving-claim = manquant, abîmé, réclamé
order-shorts = manquant ou changé par le fournisseur
order-edge = { $spec } : { $packs } manqueraient de { $short } et économiseraient { $saves }.
door-map-rule = Le prêt en haut, le cru en bas, quelle que soit la date. Rien sans étiquette. Laisser passer l’air.
door-map-too-warm = Trop chaud : lire l’aliment, non l’air; puis la fiche d’urgence.
no-date-in-book = pas de durée dans le livre : écrire la date
plating-rule = Dans cet ordre. 6 h est le plus près du convive. L’élément le plus lourd y est, les autres selon le poids des deux côtés; les points près du bord.
o-clock = { $hour } h
stop-may = peut : { $name }
stop-unknown = demander : { $name }
leaves-by = { $by }; une assiette attend au plus { $most }
can-be-left-out = peut être omis
cannot-be-left-out = le plat n’existe pas sans lui
brief-contains = contient
brief-may = peut contenir
brief-unknown = inconnu
brief-removable = oui, sans { $parts }
brief-not-removable = non
brief-ask = Ne jamais deviner pour un convive : demander à la cuisine, et dire qui a répondu.
matrix-contains = contient
matrix-may = peut
matrix-unknown = demander
matrix-under = sous la limite
matrix-legend = contient : selon l’étiquette. peut : l’étiquette avertit, ou reste à lire. demander : personne n’a vérifié. · : sur aucune étiquette lue.
matrix-labels-only = Selon les étiquettes du livre. Cela ne dit rien des planches, friteuses et mains partagées : demander à la cuisine.
matrix-source = Liste : { $list }
verify-with-authority = Une partie de cette liste n’a pas été lue même : vérifier auprès de l’autorité.
beside-contains = { $name } contient : { $word } ({ $ingredient })
beside-may = { $name } peut contenir : { $word } ({ $ingredient })
clean-strength = La force de l’assainisseur est sur son étiquette : le préparer ainsi, la lire à la bandelette, la noter.
clean-machine = vider, laver, rincer, assainir, laisser sécher à l’air
clean-smoker = grilles, lèchefrite et joint : gratter, dégraisser, rincer, laisser sécher; cendres une fois froides
clean-raw-boards = planches et couteaux à poisson et viande crus
clean-raw-boards-how = à part de tout autre, avant tout aliment prêt : laver, rincer, assainir, laisser sécher
clean-ready-boards = planches et couteaux à aliments prêts
clean-ready-boards-how = laver, rincer, assainir, laisser sécher; entre allergènes aussi
clean-acid-tubs = bacs de marinade et de saumure
clean-acid-tubs-how = pas d’aluminium pour l’acide et le sel; laver, rincer longtemps, assainir, laisser sécher
clean-cure-scale = balance et gobelets à sel de salaison
clean-cure-scale-how = essuyer humide, jamais dans un autre aliment; le reste retourne sous clé, pesé
clean-probes = sondes
clean-probes-how = essuyer d’une lingette assainissante avant et après chaque aliment
clean-hands = lave-mains
clean-hands-how = savon, papier, rien d’autre dedans
clean-drains = drains, plancher, poubelles
clean-drains-how = en dernier, avec leurs propres brosses
clean-allergen-boards = planches des assiettes spéciales lavées et gardées à part
clean-strips-read = bandelettes lues et notées
skill-dry-cure = salaison à sec
skill-brine = saumure
skill-pump = injection
skill-smoke = fumage
skill-fillet = levée de filets
skill-trim = parage
skill-pickle = marinade
skill-emulsify = émulsion
skill-mix = mélange
skill-chill = refroidissement noté
skill-carve = tranchage
skill-cut = coupes
skill-plate = dressage
rubric-rule = Justesse du poids : pesé contre demandé, à ± { $tolerance }. Initiales seulement pour ce qui a été vu.
rubric-pairs = Les équipes de deux travaillent ensemble et sont validées une à une.
rubric-taste = Goût et technique : en mots, au verso.
sheet-held = RETENU : { $name }. Rien n’en sort avant une décision; demander à la personne responsable
sheet-discarded = JETÉ : { $name }. Ne se sert pas
