# Le dossier : verdicts, sources, ce qui n’a pas été noté.

dossier-under = Lot { $code }
dossier-evidence-follows = Les preuves suivent aux pages suivantes.
nothing-written-down = Rien n’a encore été noté : chaque valeur ici est du plan, et aucune n’est une lecture.
not-written-down = non noté
no-deviation-written-down = Aucun écart n’a été noté. Cela ne veut pas dire qu’il n’y en a pas eu.
no-reading = pas de lecture
not-named = non indiqué
nitrite-arithmetic = { $nitrite } g de nitrite de sodium × 1 000 000 ÷ { $green } g de poids paré
nitrite-green = Compté sur le poids paré, avant salaison; jamais sur le poids fini. Ce qu’un rinçage enlève n’est pas déduit.
verdicts-on-plan = Verdicts sur le plan, non sur des lectures. Les règles gardent les mots dans lesquels elles ont été lues.
verdict-shown = démontré
verdict-not-shown = non démontré
verdict-broken = enfreint
no-rule-speaks = Aucune des règles d’ici n’en parle.
source-line = { $title } ({ $status }; { $holds })
holds-here = règle de ce lieu
holds-as-guidance = règle d’un État, indicative ici
holds-stand-in = par défaut : aucune règle de ce lieu n’est connue ici
status-read = lue
status-second-hand = de seconde main; vérifier auprès de l’autorité
status-from-memory = de mémoire; vérifier auprès de l’autorité
status-practice = usage du métier, sans source
status-house = décidé dans la maison
status-entered = saisi
status-computed = calculé
