import type { Element } from '../fields.js';
import type { FieldSpot } from '../moves/forms.js';
import { Fragment, h, type VNode } from '../vendor/preact.js';
import type { Place } from '../wire.js';
import { ButtonElement, OverflowElement, WorkflowButtonElement } from './button.js';
import { External } from './external.js';
import type { FieldProps } from './field.js';
import { Checkboxes, PickMany, RadioButtons } from './pick-many.js';
import { PickOne } from './pick-one.js';
import { TextInput } from './text-input.js';
import { When } from './when.js';

interface ElementProps {
  readonly place: Place;
  readonly blockId: string;
  readonly element: Element;
  readonly dispatches: boolean;
  readonly labelledBy?: string | undefined;
  readonly describedBy?: string | undefined;
  readonly invalid?: boolean;
}

/** The id an element's label points to. */
export function inputIdOf(place: Place, blockId: string, actionId: string): string {
  const scope = place.kind === 'view' ? place.id : `${place.channel}-${place.ts}`;
  return `f-${scope}-${blockId}-${actionId}`.replace(/[^\w-]/g, '_');
}

/** Any interactive element of Block Kit that works in messages, forms or the home tab. */
export function ElementView(props: ElementProps) {
  const { place, blockId, element, dispatches, labelledBy, describedBy, invalid = false } = props;
  const actionId = 'action_id' in element ? (element.action_id ?? '') : '';
  const spot: FieldSpot = { place, blockId, actionId };
  const inputId = inputIdOf(place, blockId, actionId);
  return draw(element, { spot, dispatches, inputId, labelledBy, describedBy, invalid });
}

function draw(element: Element, shared: Omit<FieldProps, 'element'>): VNode {
  switch (element.type) {
    case 'button':
      return <ButtonElement spot={shared.spot} element={element} />;
    case 'workflow_button':
      return <WorkflowButtonElement element={element} />;
    case 'overflow':
      return <OverflowElement spot={shared.spot} element={element} />;
    case 'plain_text_input':
    case 'number_input':
    case 'email_text_input':
    case 'url_text_input':
      return <TextInput {...shared} element={element} />;
    case 'static_select':
    case 'users_select':
    case 'channels_select':
    case 'conversations_select':
      return <PickOne {...shared} element={element} />;
    case 'multi_static_select':
    case 'multi_users_select':
    case 'multi_channels_select':
    case 'multi_conversations_select':
      return <PickMany {...shared} element={element} />;
    case 'external_select':
    case 'multi_external_select':
      return <External {...shared} element={element} />;
    case 'radio_buttons':
      return <RadioButtons {...shared} element={element} />;
    case 'checkboxes':
      return <Checkboxes {...shared} element={element} />;
    case 'datepicker':
    case 'timepicker':
    case 'datetimepicker':
      return <When {...shared} element={element} />;
    default:
      return <Fragment />;
  }
}
