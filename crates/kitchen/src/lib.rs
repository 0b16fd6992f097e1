//! What a book holds: ingredient, recipe, dish, event, site.
