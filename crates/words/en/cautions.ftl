# Cautions, said at the place of use. The English is that of the room `safety`, word for word: a test holds them together.

caution-line = Caution, { $about }: { $words }
caution-curing-salt-about = curing salt
caution-curing-salt = poisonous by the spoon and easily taken for salt: locked away and labelled, weighed to 0.01 g and read by a second person, never put in twice, never tasted; a batch in doubt is thrown away
caution-no-oxygen-about = packing without oxygen
caution-no-oxygen = Clostridium botulinum can grow without air, in the cold too, and neither smell nor gas tells of it: only as the plan your authority approved says, cold without a break, dated
caution-under-oil-about = garlic or herbs in oil
caution-under-oil = under oil there is no air, and Clostridium botulinum can grow in what is moist: kept at 5 °C or below, dated for days and not for weeks, then thrown away; never warm, never on a shelf
caution-eaten-raw-about = raw-cured or cold-smoked
caution-eaten-raw = not cooked: the usual advice keeps it from anyone pregnant, very young, old or ill; the floor is told, and a guest's own question goes to their doctor
caution-hot-liquor-about = liquor
caution-hot-liquor = a hot one scalds, and a lid on a hot jar bursts or sucks tight: carried low, poured away from you, lids on when cool; never over raw fish or meat, whose brine is at 4 °C or below
caution-smoking-wood-about = wood and smoke
caution-smoking-wood = dry hardwood known to be untreated: nothing resinous, painted, glued or from a pallet; smoke holds carbon monoxide: air the room, and keep to the fire rules of the building
