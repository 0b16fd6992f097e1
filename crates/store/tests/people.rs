//! People, devices, sessions.

#![allow(clippy::unwrap_used, clippy::panic)]

mod fixture;

use fixture::{at, instant, label, name};
use store::{
    AddDevice, AddPerson, ChangePerson, ClearSessions, DeviceId, Devices, EndSession,
    EndSessionsOf, Error, FindSession, OpenSession, People, Person, PersonId, PersonNamed,
    ProlongSession, RemoveDevice, Role, SessionsNow, Store,
};

fn device() -> DeviceId {
    DeviceId::new("tablet-2").unwrap()
}

fn with_maren() -> (Store, Person) {
    let store = Store::in_memory().unwrap();
    let maren = AddPerson {
        name: name("Maren"),
        role: Role::Instructor,
        password: Some("$opaque$hash".to_owned()),
        at: at(0),
    };
    let maren = store.ask(maren).unwrap();
    let tablet = AddDevice {
        id: device(),
        name: label("by the smoker"),
        at: at(0),
    };
    store.ask(tablet.clone()).unwrap();
    assert_eq!(
        store.ask(tablet).unwrap_err(),
        Error::KeyTaken { what: "device" }
    );
    (store, maren)
}

fn open(person: PersonId, key: &str, from: i64, to: i64) -> OpenSession {
    OpenSession {
        key: key.to_owned(),
        person,
        device: device(),
        at: instant(from),
        ends: instant(to),
    }
}

fn holds(store: &Store, key: &str, second: i64) -> bool {
    let find = FindSession {
        key: key.to_owned(),
        at: instant(second),
    };
    store.ask(find).unwrap().is_some()
}

#[test]
fn a_session_holds_until_its_end() {
    let (store, maren) = with_maren();
    store.ask(open(maren.id, "k", 0, 60)).unwrap();
    assert!(holds(&store, "k", 59));
    assert!(!holds(&store, "k", 60));
    assert!(!holds(&store, "other", 0));
    let found = store
        .ask(FindSession {
            key: "k".to_owned(),
            at: instant(1),
        })
        .unwrap()
        .unwrap();
    assert_eq!(
        (found.person, found.device, found.ends),
        (maren.clone(), device(), instant(60))
    );
    assert_eq!(
        store.ask(open(maren.id, "k", 0, 60)).unwrap_err(),
        Error::KeyTaken {
            what: "session key"
        }
    );
    assert!(matches!(
        store.ask(open(maren.id, "l", 60, 60)),
        Err(Error::Refused(_))
    ));
    assert!(matches!(
        store.ask(open(PersonId(9), "l", 0, 60)),
        Err(Error::NoPerson { .. })
    ));
    store.ask(open(maren.id, "l", 0, 90)).unwrap();
    assert_eq!(store.ask(ClearSessions { at: instant(60) }).unwrap(), 1);
    store
        .ask(EndSession {
            key: "l".to_owned(),
        })
        .unwrap();
    store
        .ask(EndSession {
            key: "l".to_owned(),
        })
        .unwrap();
    assert!(!holds(&store, "l", 1));
}

#[test]
fn who_left_is_out_at_once_and_stays_on_the_list() {
    let (store, mut maren) = with_maren();
    store.ask(open(maren.id, "k", 0, 60)).unwrap();
    maren.left = Some(at(10));
    store.ask(ChangePerson(maren.clone())).unwrap();
    assert!(!holds(&store, "k", 1));
    assert!(matches!(
        store.ask(open(maren.id, "l", 0, 60)),
        Err(Error::NoPerson { .. })
    ));
    assert_eq!(store.ask(People).unwrap(), [maren.clone()]);
    assert_eq!(store.ask(PersonNamed(name("Maren"))).unwrap(), Some(maren));
    assert_eq!(store.ask(PersonNamed(name("Ode"))).unwrap(), None);
}

#[test]
fn a_device_taken_out_ends_its_sessions() {
    let (store, maren) = with_maren();
    store.ask(open(maren.id, "k", 0, 60)).unwrap();
    store
        .ask(RemoveDevice {
            id: device(),
            at: at(1),
        })
        .unwrap();
    assert!(!holds(&store, "k", 2));
    assert!(matches!(
        store.ask(open(maren.id, "l", 0, 60)),
        Err(Error::NoDevice { .. })
    ));
    assert_eq!(store.ask(Devices).unwrap()[0].left, Some(at(1)));
    assert!(
        store
            .ask(RemoveDevice {
                id: device(),
                at: at(1)
            })
            .is_err()
    );
}

#[test]
fn names_are_one_person_each() {
    let (store, maren) = with_maren();
    let ode = AddPerson {
        name: name("Ode"),
        role: Role::Learner,
        password: None,
        at: at(0),
    };
    let mut ode_too = store.ask(ode.clone()).unwrap();
    assert!(matches!(store.ask(ode), Err(Error::NameTaken { .. })));
    ode_too.name = maren.name.clone();
    assert!(matches!(
        store.ask(ChangePerson(ode_too.clone())),
        Err(Error::NameTaken { .. })
    ));
    ode_too.name = name("Ode B");
    ode_too.role = Role::Viewer;
    store.ask(ChangePerson(ode_too.clone())).unwrap();
    assert_eq!(store.ask(People).unwrap(), [maren.clone(), ode_too]);
    let nobody = Person {
        id: PersonId(99),
        name: name("Nobody"),
        ..maren
    };
    assert!(matches!(
        store.ask(ChangePerson(nobody)),
        Err(Error::NoPerson { .. })
    ));
}

#[test]
fn a_session_in_use_lasts_longer_and_one_that_ended_stays_ended() {
    let (store, maren) = with_maren();
    store.ask(open(maren.id, "k", 0, 60)).unwrap();
    let prolong = |at, ends| ProlongSession {
        key: "k".to_owned(),
        at: instant(at),
        ends: instant(ends),
    };
    store.ask(prolong(30, 90)).unwrap();
    assert!(holds(&store, "k", 89));
    // Never shorter, and never back from the dead.
    store.ask(prolong(30, 40)).unwrap();
    assert!(holds(&store, "k", 89));
    store.ask(prolong(90, 200)).unwrap();
    assert!(!holds(&store, "k", 91));
}

#[test]
fn sessions_are_listed_and_ended_by_person_and_device() {
    let (store, maren) = with_maren();
    let desk = DeviceId::new("desk").unwrap();
    store
        .ask(AddDevice {
            id: desk.clone(),
            name: label("the desk"),
            at: at(0),
        })
        .unwrap();
    store.ask(open(maren.id, "k", 0, 60)).unwrap();
    store
        .ask(OpenSession {
            device: desk.clone(),
            ..open(maren.id, "l", 0, 60)
        })
        .unwrap();
    let on = |second| -> Vec<String> {
        let now = SessionsNow {
            at: instant(second),
        };
        let all = store.ask(now).unwrap();
        all.iter()
            .map(|s| format!("{} at {}", s.name, s.device_name))
            .collect()
    };
    assert_eq!(on(1), ["Maren at the desk", "Maren at by the smoker"]);
    assert!(on(60).is_empty());
    let end = |device: Option<DeviceId>| EndSessionsOf {
        person: maren.id,
        device,
    };
    assert_eq!(store.ask(end(Some(desk))).unwrap(), 1);
    assert_eq!(on(1), ["Maren at by the smoker"]);
    assert_eq!(store.ask(end(None)).unwrap(), 1);
    assert!(on(1).is_empty());
}
