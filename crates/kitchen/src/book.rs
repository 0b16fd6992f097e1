//! A whole book.

use std::collections::BTreeMap;

use crate::Id;
use crate::event::{Dish, Event};
use crate::ingredient::Ingredient;
use crate::recipe::Recipe;
use crate::site::Site;

/// Everything a book holds, by id.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Book {
    /// Name of the book.
    pub name: String,
    /// What the book says of itself ("invented for the demo").
    pub note: String,
    /// Ingredients: the shipped table and the book's own.
    pub ingredients: BTreeMap<Id, Ingredient>,
    /// Recipes.
    pub recipes: BTreeMap<Id, Recipe>,
    /// Dishes.
    pub dishes: BTreeMap<Id, Dish>,
    /// Sites.
    pub sites: BTreeMap<Id, Site>,
    /// Events.
    pub events: BTreeMap<Id, Event>,
}
