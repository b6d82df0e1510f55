import type { KnownBlock } from '@slack/types';
import { ActionElement, InputField } from '../elements/element.js';
import type { BlockOf } from '../fields.js';
import { h, type VNode } from '../vendor/preact.js';
import type { Place } from '../wire.js';
import { Picture, pictureAddress } from './picture.js';
import { plainWords, Words } from './words.js';

interface BlocksProps {
  readonly blocks: readonly KnownBlock[];
  readonly place: Place;
  /** What is wrong with which field, by block id. */
  readonly errors?: Readonly<Record<string, string>> | null;
}

/** The blocks of a message, a form or the home tab. */
export function Blocks({ blocks, place, errors = null }: BlocksProps) {
  return (
    <div class="blocks">
      {blocks.map((block, index) => (
        <div class={`block block-${block.type}`} key={block.block_id ?? `n${index}`}>
          {drawBlock(block, place, errors?.[block.block_id ?? ''])}
        </div>
      ))}
    </div>
  );
}

function drawBlock(block: KnownBlock, place: Place, error: string | undefined): VNode | null {
  switch (block.type) {
    case 'header':
      return <h3>{plainWords(block.text)}</h3>;
    case 'divider':
      return <hr />;
    case 'section':
      return <Section block={block} place={place} />;
    case 'context':
      return <Context block={block} />;
    case 'actions':
      return <Actions block={block} place={place} />;
    case 'image':
      return <Picture url={pictureAddress(block)} alt={block.alt_text} title={block.title?.text} />;
    case 'input':
      return <InputField block={block} place={place} error={error} />;
    default:
      return <p class="faint">(A block of the kind “{block.type}” that this page cannot show.)</p>;
  }
}

function Section({ block, place }: { readonly block: BlockOf<'section'>; readonly place: Place }) {
  const { text, fields, accessory } = block;
  const isPicture = accessory?.type === 'image';
  return (
    <div class={isPicture ? 'section section-picture' : 'section'}>
      <div class="section-words">
        {text === undefined ? null : <Words of={text} />}
        {fields === undefined ? null : (
          <div class="fields">
            {fields.map((field) => (
              <div>
                <Words of={field} />
              </div>
            ))}
          </div>
        )}
      </div>
      {accessory === undefined ? null : (
        <div class="accessory">
          {accessory.type === 'image' ? (
            <Picture url={pictureAddress(accessory)} alt={accessory.alt_text} />
          ) : (
            <ActionElement place={place} blockId={block.block_id ?? ''} element={accessory} />
          )}
        </div>
      )}
    </div>
  );
}

function Context({ block }: { readonly block: BlockOf<'context'> }) {
  return (
    <div class="context">
      {block.elements.map((element) =>
        element.type === 'image' ? (
          <Picture url={pictureAddress(element)} alt={element.alt_text} small />
        ) : (
          <Words of={element} />
        ),
      )}
    </div>
  );
}

function Actions({ block, place }: { readonly block: BlockOf<'actions'>; readonly place: Place }) {
  return (
    <div class="actions">
      {block.elements.map((element) => (
        <ActionElement place={place} blockId={block.block_id ?? ''} element={element} />
      ))}
    </div>
  );
}
