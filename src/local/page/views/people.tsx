import { writeRoute } from '../route.js';
import { getState } from '../store.js';
import { h } from '../vendor/preact.js';

/** The first question: whose phone is this? */
export function People() {
  const { workspace } = getState();
  if (workspace === null) return <main class="people">Opening the door…</main>;
  return (
    <main class="people">
      <p class="house">{workspace.workspace.name}</p>
      <h1>Whose phone is this?</h1>
      <p class="faint">
        This is a workspace on your own machine. Be anybody; a second tab can be somebody else at the same
        time.
      </p>
      <ul class="people-list">
        {workspace.people
          .filter(({ isBot, deleted }) => !isBot && !deleted)
          .map((person) => (
            <li key={person.id}>
              <a class="person" href={writeRoute({ handle: person.name })}>
                <span class="stamp" aria-hidden="true">
                  {person.realName.slice(0, 2)}
                </span>
                <span>
                  <strong>{person.realName}</strong>
                  <small>@{person.name}</small>
                </span>
              </a>
            </li>
          ))}
      </ul>
    </main>
  );
}
