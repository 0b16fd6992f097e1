# Mises en garde, au poste même. Elles touchent à la sécurité : elles ne sont jamais laissées de côté.

caution-line = Attention, { $about } : { $words }
caution-curing-salt-about = sel de salaison
caution-curing-salt = poison à la cuillère et facile à prendre pour du sel : sous clé et étiqueté, pesé à 0,01 g et relu par une deuxième personne, jamais ajouté deux fois, jamais goûté; un lot douteux est jeté
caution-no-oxygen-about = emballage sans oxygène
caution-no-oxygen = Clostridium botulinum peut croître sans air, même au froid, et ni odeur ni gaz ne le trahit : seulement selon le plan approuvé par votre autorité, au froid sans interruption, daté
caution-under-oil-about = ail ou herbes dans l’huile
caution-under-oil = sous l’huile il n’y a pas d’air, et Clostridium botulinum peut croître dans ce qui est humide : à 5 °C ou moins, daté en jours et non en semaines, puis jeté; jamais au chaud, jamais sur une tablette
caution-eaten-raw-about = salé cru ou fumé à froid
caution-eaten-raw = non cuit : l’avis habituel le déconseille aux femmes enceintes, aux très jeunes enfants, aux personnes âgées ou malades; la salle en est avertie, et la question d’un convive va à son médecin
caution-hot-liquor-about = liquide de marinade
caution-hot-liquor = chaud, il brûle, et un couvercle sur un bocal chaud éclate ou se scelle : porté bas, versé loin de soi, couvercles une fois refroidi; jamais sur du poisson cru ou de la viande crue, dont la saumure est à 4 °C ou moins
caution-smoking-wood-about = bois et fumée
caution-smoking-wood = bois franc sec, non traité à coup sûr : rien de résineux, peint, collé ou venant d’une palette; la fumée contient du monoxyde de carbone : aérer le local et suivre les règles d’incendie du bâtiment
