import { createHmac } from 'node:crypto';
import { Agent, request } from 'node:http';
import { quantile } from './figures.js';
import { signingSecret } from './parts.js';
import type { MakeRequest } from './requests.js';

export type Pace = {
  readonly requests: number;
  readonly connections: number;
  /** Requests a second, sent when their time comes whether or not earlier ones are answered; as fast as they are answered when null. */
  readonly perSecond: number | null;
};

export type Answered = { readonly p50: number; readonly p99: number };

const agents = new Map<number, Agent>();

function agentFor(connections: number): Agent {
  const known = agents.get(connections);
  if (known) return known;
  const agent = new Agent({ keepAlive: true, maxSockets: connections });
  agents.set(connections, agent);
  return agent;
}

/**
 * Sends signed requests over kept connections, from `afterMs` on; times are milliseconds from sending to the end
 * of the answer.
 */
export async function load(url: string, make: MakeRequest, pace: Pace, afterMs = 0): Promise<Answered> {
  const agent = agentFor(pace.connections);
  const times: number[] = [];
  if (afterMs > 0) await until(performance.now() + afterMs);
  const started = performance.now();
  if (pace.perSecond === null) {
    let left = pace.requests;
    const line = async () => {
      while (left > 0) {
        left -= 1;
        times.push(await send(url, make, agent));
      }
    };
    await Promise.all(Array.from({ length: pace.connections }, line));
  } else {
    const gap = 1000 / pace.perSecond;
    const all = Array.from({ length: pace.requests }, async (_, index) => {
      await until(started + index * gap);
      times.push(await send(url, make, agent));
    });
    await Promise.all(all);
  }
  return { p50: quantile(times, 0.5), p99: quantile(times, 0.99) };
}

function until(moment: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, Math.max(0, moment - performance.now())));
}

function send(url: string, make: MakeRequest, agent: Agent): Promise<number> {
  const { type, body } = make();
  const at = String(Math.floor(Date.now() / 1000));
  const signature = createHmac('sha256', signingSecret).update(`v0:${at}:${body}`).digest('hex');
  const headers = {
    'content-type': type,
    'content-length': Buffer.byteLength(body),
    'x-slack-request-timestamp': at,
    'x-slack-signature': `v0=${signature}`,
  };
  return new Promise((resolve, reject) => {
    const sent = performance.now();
    const outgoing = request(url, { method: 'POST', agent, headers }, (response) => {
      response.resume();
      response.on('end', () => {
        if (response.statusCode === 200) resolve(performance.now() - sent);
        else reject(new Error(`answered ${response.statusCode}: ${body.slice(0, 200)}`));
      });
    });
    outgoing.on('error', reject);
    outgoing.end(body);
  });
}
