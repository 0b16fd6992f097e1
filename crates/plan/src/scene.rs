//! What a plan is made from: a book, one event of it, and the changes asked for.

use jiff::civil::DateTime;
use kitchen::event::Event;
use kitchen::site::Site;
use kitchen::{Book, Id};

use crate::setting::{Setting, SettingError};

/// A book with one event picked out, after all changes.
#[derive(Debug, Clone)]
pub struct Scene {
    /// The book.
    pub book: Book,
    /// The event.
    pub event: Event,
    /// Its site.
    pub site: Site,
    /// Changes applied so far, in order.
    pub changes: Vec<Setting>,
    /// What was measured after buying, so that what is bought stays as it was planned before.
    pub facts: Vec<Setting>,
    /// Masses weighed on leaving a step: recipe, step, grams.
    pub weighed: Vec<(Id, Id, f64)>,
    /// Parts of dishes that come ready and are not made here.
    pub ready: Vec<Id>,
    /// Buy anew in spite of facts.
    pub order_again: bool,
    /// Tasks keep these starts where they can (a re-plan disturbs as little as possible).
    pub keep: Option<Vec<(String, i64)>>,
    /// Who was planned for each task of the plan that is kept.
    pub kept_people: Vec<(String, Vec<String>)>,
    /// What happened so far; see [`crate::happened::Happened::on`].
    pub happened: Option<crate::happened::Record>,
    /// The chance of a day that goes as planned that is asked for; `None`: none is.
    pub robust: Option<f64>,
    /// Minutes planned beyond the usual for tasks, by id.
    pub allowance: std::collections::BTreeMap<String, i64>,
    /// The serving hour before any change.
    pub served_first: DateTime,
}

/// Why there is no scene.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SceneError {
    /// The book has no such event; these are its events.
    UnknownEvent {
        /// What was asked for.
        found: String,
        /// What there is.
        known: Vec<String>,
    },
    /// A change cannot be made.
    Setting(SettingError),
}

impl Scene {
    /// The event `id` of a book as written.
    ///
    /// # Errors
    /// [`SceneError::UnknownEvent`] when the book has none of that id.
    pub fn new(book: &Book, id: &str) -> Result<Self, SceneError> {
        let event = book.events.iter().find(|(k, _)| **k == id).map(|(_, e)| e);
        let site = event.and_then(|e| book.sites.get(&e.site));
        match (event, site) {
            (Some(event), Some(site)) => Ok(Self {
                book: book.clone(),
                event: event.clone(),
                site: site.clone(),
                changes: Vec::new(),
                facts: Vec::new(),
                weighed: Vec::new(),
                ready: Vec::new(),
                order_again: false,
                keep: None,
                kept_people: Vec::new(),
                happened: None,
                robust: None,
                allowance: std::collections::BTreeMap::new(),
                served_first: event.serve,
            }),
            _ => Err(SceneError::UnknownEvent {
                found: id.to_owned(),
                known: book.events.keys().map(ToString::to_string).collect(),
            }),
        }
    }

    /// The scene with one more change.
    ///
    /// # Errors
    /// [`SceneError::Setting`] with what was found, what was expected and what to do.
    pub fn with(&self, setting: &Setting) -> Result<Self, SceneError> {
        let mut scene = self.clone();
        crate::setting::apply(&mut scene, setting).map_err(SceneError::Setting)?;
        scene.changes.push(setting.clone());
        Ok(scene)
    }

    /// The scene with all of these changes.
    ///
    /// # Errors
    /// As [`Scene::with`].
    pub fn with_all(&self, settings: &[Setting]) -> Result<Self, SceneError> {
        let mut scene = self.clone();
        for setting in settings {
            scene = scene.with(setting)?;
        }
        Ok(scene)
    }

    /// The scene as it was planned before anything was measured.
    #[must_use]
    pub fn before_facts(&self, first: &Self) -> Self {
        let planned: Vec<Setting> = self
            .changes
            .iter()
            .filter(|s| !self.facts.contains(s))
            .cloned()
            .collect();
        first.with_all(&planned).unwrap_or_else(|_| first.clone())
    }
}
