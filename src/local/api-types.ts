/**
 * The local workspace's JSON API: what goes over the wire, as zod schemas and the types they imply.
 * No Node imports here: the page takes its types from this file too.
 */
import { z } from 'zod';

/** Any JSON object, for parts that the workspace only carries (blocks, metadata, decoded arguments). */
export const JsonObject = z.record(z.string(), z.json());
export type JsonObject = z.infer<typeof JsonObject>;

const Id = z.string().min(1).max(255);
const Ts = z.string().regex(/^\d{1,12}\.\d{6}$/, 'a message ts looks like 1767225600.000100');
/** Text keyed by block id: what is wrong with which field of a form. */
const FieldErrors = z.record(z.string(), z.string());

export const Person = z.object({
  id: z.string(),
  name: z.string(),
  realName: z.string(),
  tz: z.string(),
  isBot: z.boolean(),
  deleted: z.boolean(),
});
export type Person = Readonly<z.infer<typeof Person>>;

export const ChannelKind = z.enum(['channel', 'private', 'im']);
export type ChannelKind = z.infer<typeof ChannelKind>;

export const Channel = z.object({
  id: z.string(),
  name: z.string(),
  kind: ChannelKind,
  members: z.array(z.string()),
  isArchived: z.boolean(),
  with: z.string().optional(),
});
export type Channel = Readonly<z.infer<typeof Channel>>;

export const WorkspaceState = z.object({
  now: z.string(),
  workspace: z.object({ id: z.string(), name: z.string(), domain: z.string() }),
  bot: z.object({ userId: z.string(), name: z.string(), online: z.boolean() }),
  people: z.array(Person),
  channels: z.array(Channel),
});
export type WorkspaceState = Readonly<z.infer<typeof WorkspaceState>>;

const FileShown = z.object({
  id: z.string(),
  title: z.string(),
  name: z.string(),
  mimetype: z.string(),
  url: z.string(),
});
export type SharedFile = Readonly<z.infer<typeof FileShown>>;

export const Message = z.object({
  ts: z.string(),
  channel: z.string(),
  user: z.string().nullable(),
  botId: z.string().nullable(),
  text: z.string(),
  blocks: z.array(JsonObject),
  threadTs: z.string().nullable(),
  replyCount: z.number().int(),
  latestReply: z.string().nullable(),
  edited: z.boolean(),
  /** True for a thread's parent that was deleted while its replies stayed. */
  deleted: z.boolean().optional(),
  ephemeral: z.boolean(),
  reactions: z.array(z.object({ name: z.string(), users: z.array(z.string()) })),
  files: z.array(FileShown),
  metadata: JsonObject.nullable(),
});
export type Message = Readonly<z.infer<typeof Message>>;

export const MessageList = z.object({ messages: z.array(Message) });
export const DirectChannel = z.object({ channel: Channel });
export const UnreadList = z.object({
  channels: z.array(z.object({ id: z.string(), unread: z.number().int() })),
});

/** A form or home tab as Slack's `view` object, with what the person has typed so far in `state`. */
export const View = z.looseObject({
  id: z.string(),
  type: z.enum(['modal', 'home']),
  callback_id: z.string(),
  private_metadata: z.string(),
  hash: z.string(),
  blocks: z.array(JsonObject),
  title: JsonObject.optional(),
  submit: JsonObject.nullable().optional(),
  close: JsonObject.nullable().optional(),
  state: z.object({ values: z.record(z.string(), JsonObject) }),
});
export type View = Readonly<z.infer<typeof View>>;

export const OpenViews = z.object({
  stack: z.array(View),
  errors: FieldErrors.nullable(),
  notice: z.string().nullable(),
});
export type OpenViews = Readonly<z.infer<typeof OpenViews>>;
export const HomeTab = z.object({ view: View.nullable() });

/** A file a person attaches: its bytes in base64, at most 8 MB over the wire. */
export const AttachedFile = z.strictObject({
  name: z.string().min(1).max(255),
  title: z.string().max(255).optional(),
  base64: z.base64(),
});

export const SayRequest = z.strictObject({
  as: Id,
  channel: Id,
  text: z.string().max(40_000),
  thread: Ts.optional(),
  broadcast: z.boolean().optional(),
  files: z.array(AttachedFile).max(10).optional(),
});
export type SayRequest = z.infer<typeof SayRequest>;
export const SayAnswer = z.object({ ts: z.string() });

/** Somebody does something to a message: takes it back, or has read as far as this. */
export const MessageRequest = z.strictObject({ as: Id, channel: Id, ts: Ts });
export const EditRequest = MessageRequest.extend({ text: z.string().min(1).max(40_000) });
/** What a reaction may be called, by people and by the bot. */
export const ReactionName = z.string().regex(/^[a-z0-9_+'-]+(::skin-tone-[2-6])?$/);
export const ReactRequest = MessageRequest.extend({ name: ReactionName, remove: z.boolean().optional() });
export const HomeOpenedRequest = z.strictObject({ as: Id, tab: z.enum(['home', 'messages']) });

export const CommandRequest = z.strictObject({
  as: Id,
  channel: Id,
  text: z.string().regex(/^\//, 'a slash command begins with /').max(4_000),
  thread: Ts.optional(),
});
export type CommandRequest = z.infer<typeof CommandRequest>;
/** How the bot took what a person did. */
export const TapAnswer = z.object({
  ok: z.boolean(),
  /** HTTP status of the bot's answer; 0 when there was none. */
  status: z.number().int(),
  error: z.string().optional(),
});
export type TapAnswer = Readonly<z.infer<typeof TapAnswer>>;
export const CommandAnswer = TapAnswer.extend({ response: Message.nullable().optional() });
export type CommandAnswer = Readonly<z.infer<typeof CommandAnswer>>;

/** What was picked or typed: a value, several, or nothing (cleared). Options are named by their value. */
export const Picked = z.union([z.string(), z.array(z.string()), z.null()]);
export type Picked = z.infer<typeof Picked>;
export const FormValues = z.record(z.string(), z.record(z.string(), Picked));
export type FormValues = z.infer<typeof FormValues>;

const MessagePlace = z.strictObject({ channel: Id, ts: Ts });
const ViewPlace = z.strictObject({ id: Id });

export const TapRequest = z.strictObject({
  as: Id,
  action: z.strictObject({
    actionId: Id,
    blockId: Id.optional(),
    value: z.string().optional(),
    selected: Picked.optional(),
  }),
  message: MessagePlace.optional(),
  view: ViewPlace.optional(),
});
export type TapRequest = z.infer<typeof TapRequest>;
export const TypeRequest = z.strictObject({ as: Id, view: ViewPlace, values: FormValues });
export const SubmitRequest = z.strictObject({ as: Id, view: ViewPlace, values: FormValues.optional() });
export const SubmitAnswer = TapAnswer.extend({ errors: FieldErrors.optional(), closed: z.boolean() });
export type SubmitAnswer = Readonly<z.infer<typeof SubmitAnswer>>;
export const CloseRequest = z.strictObject({ as: Id, view: ViewPlace });
export const ShortcutRequest = z.strictObject({ as: Id, callbackId: Id, message: MessagePlace.optional() });

export const ClockRequest = z.union([
  z.strictObject({ to: z.iso.datetime({ offset: true }) }),
  z.strictObject({
    advance: z
      .number()
      .int()
      .nonnegative()
      .max(3_650 * 86_400_000),
  }),
  z.strictObject({}),
]);
export const ClockAnswer = z.object({ now: z.string(), offsetMs: z.number() });

const Handle = z.string().regex(/^[a-z0-9][a-z0-9._-]{0,79}$/, 'small letters, digits, dots and dashes');
export const NewChannelRequest = z.strictObject({
  name: Handle,
  kind: z.enum(['channel', 'private']),
  members: z.array(Id),
});
export const ChangeChannelRequest = z.strictObject({
  archived: z.boolean().optional(),
  addMember: Id.optional(),
  removeMember: Id.optional(),
});
export const NewPersonRequest = z.strictObject({
  name: Handle,
  realName: z.string().min(1).max(80),
  tz: z.string().min(1),
});
export const ChangePersonRequest = z.strictObject({ deleted: z.boolean() });

export const SettledRequest = z.strictObject({
  timeoutMs: z.number().int().positive().max(120_000).optional(),
  /** How long the bot must have made no Web API call; 50 unless told. */
  quietMs: z.number().int().nonnegative().max(10_000).optional(),
});
export const SettledAnswer = z.object({ settled: z.boolean() });

/** One `change` event of GET /local/stream. */
export const Change = z.object({
  kind: z.enum(['message', 'views', 'home', 'clock', 'channels', 'people']),
  channel: z.string().optional(),
  ts: z.string().optional(),
  as: z.string().optional(),
});
export type Change = Readonly<z.infer<typeof Change>>;

export const Delivery = z.object({
  n: z.number().int(),
  at: z.string(),
  kind: z.string(),
  eventId: z.string().optional(),
  status: z.number().int(),
  retryNum: z.number().int(),
  ms: z.number(),
  error: z.string().optional(),
});
export type Delivery = Readonly<z.infer<typeof Delivery>>;
export const DeliveryList = z.object({ deliveries: z.array(Delivery) });

export const Call = z.object({
  n: z.number().int(),
  at: z.string(),
  method: z.string(),
  args: JsonObject,
  ok: z.boolean(),
  error: z.string().optional(),
});
export type Call = Readonly<z.infer<typeof Call>>;
export const CallList = z.object({ calls: z.array(Call) });

/** What a refused request answers, with HTTP 4xx. */
export const Refusal = z.object({ error: z.string(), message: z.string() });
export type Refusal = Readonly<z.infer<typeof Refusal>>;
