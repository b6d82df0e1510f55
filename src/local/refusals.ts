/** A person's action that Slack's client would not allow; answered as HTTP 4xx with a sentence. */
export class RefusedAction extends Error {
  readonly code: string;
  readonly status: number;

  constructor(code: string, message: string, status = 400) {
    super(message);
    this.name = 'RefusedAction';
    this.code = code;
    this.status = status;
  }
}

/** A Web API call answered `ok: false`. */
export class SlackError extends Error {
  readonly code: string;
  readonly details: Readonly<Record<string, unknown>>;

  constructor(code: string, details: Readonly<Record<string, unknown>> = {}) {
    super(code);
    this.name = 'SlackError';
    this.code = code;
    this.details = details;
  }
}
