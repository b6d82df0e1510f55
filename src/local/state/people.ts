import { Person } from '../api-types.js';
import { type Db, flag, row, rows, run, save } from './database.js';

const Row = Person.extend({ isBot: flag, deleted: flag });
const Found = Row.optional();

export function allPeople(db: Db): readonly Person[] {
  return rows(db, Row, 'select * from person order by rowid');
}

export function findPerson(db: Db, id: string): Person | undefined {
  return row(db, Found, 'select * from person where id = ?', id);
}

export function findPersonByName(db: Db, name: string): Person | undefined {
  return row(db, Found, 'select * from person where name = ?', name.toLowerCase());
}

/** Adds a person under an id that can be read: U, zeros, the handle in capitals. */
export function addPerson(db: Db, given: Omit<Person, 'id' | 'deleted'>): Person {
  const id = freeId('U', given.name, (candidate) => findPerson(db, candidate) !== undefined);
  const person = { ...given, id, deleted: false };
  save(db, 'person', ['id'], person);
  return person;
}

export function setPersonDeleted(db: Db, id: string, deleted: boolean): void {
  run(db, 'update person set deleted = ? where id = ?', deleted ? 1 : 0, id);
}

/** A letter, zeros to ten characters, the name in capitals; counted up when it is taken. */
export function freeId(letter: string, name: string, taken: (id: string) => boolean): string {
  const plain = name.toUpperCase().replaceAll(/[^A-Z0-9]/g, '');
  for (let number = 1; ; number += 1) {
    const id = `${letter}${(number === 1 ? plain : `${plain}${number}`).padStart(9, '0')}`;
    if (!taken(id)) return id;
  }
}
