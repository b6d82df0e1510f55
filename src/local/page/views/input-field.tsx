import type { KnownBlock } from '@slack/types';
import { ElementView, inputIdOf } from '../elements/element.js';
import { h } from '../vendor/preact.js';
import type { Place } from '../wire.js';
import { plainWords } from './words.js';

interface InputFieldProps {
  readonly block: Extract<KnownBlock, { type: 'input' }>;
  readonly place: Place;
  readonly error: string | undefined;
}

/** One labelled field of a form, with its hint and with what is wrong with it. */
export function InputField({ block, place, error }: InputFieldProps) {
  const { element } = block;
  const blockId = block.block_id ?? '';
  const id = inputIdOf(place, blockId, 'action_id' in element ? (element.action_id ?? '') : '');
  const described = [
    ...(block.hint === undefined ? [] : [`${id}-hint`]),
    ...(error === undefined ? [] : [`${id}-error`]),
  ];
  return (
    <div class={error === undefined ? 'input' : 'input input-wrong'}>
      <label id={`${id}-label`} htmlFor={id}>
        {plainWords(block.label)}
        {block.optional ? <span class="faint"> (may stay empty)</span> : null}
      </label>
      <ElementView
        place={place}
        blockId={blockId}
        element={element}
        dispatches={block.dispatch_action ?? false}
        labelledBy={`${id}-label`}
        describedBy={described.length === 0 ? undefined : described.join(' ')}
        invalid={error !== undefined}
      />
      {block.hint === undefined ? null : (
        <p class="hint" id={`${id}-hint`}>
          {plainWords(block.hint)}
        </p>
      )}
      {error === undefined ? null : (
        <p class="wrong" id={`${id}-error`}>
          {error}
        </p>
      )}
    </div>
  );
}
