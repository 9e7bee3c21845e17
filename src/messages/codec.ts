import './plainNumbers.js';

import { Fault } from '../core/fault.js';
import { leeway } from './gen/leeway.js';
import { fromProtoJson, isEnumValue, toProtoJson } from './protoJson.js';

export type ServerMessage = leeway.v1.ServerMessage.$Properties;
export type ClientMessage = leeway.v1.ClientMessage.$Properties;
export const Feed = leeway.v1.Feed;
export type Feed = leeway.v1.Feed;
export const CornerKind = leeway.v1.CornerKind;

/** @returns the message as binary protobuf. */
export function encodeProto(message: ServerMessage): Uint8Array {
  return leeway.v1.ServerMessage.encode(message).finish();
}

/** @returns the message as ProtoJSON text. */
export function encodeJson(message: ServerMessage): string {
  return toProtoJson('ServerMessage', message);
}

/**
 * Reads what a client sent.
 * @throws {Fault} MESSAGE_UNREADABLE; ENUM_UNKNOWN for a name or number of an enum that is not known.
 */
export function readClientMessage(format: 'proto' | 'json', data: Uint8Array | string): ClientMessage {
  if (format === 'json') {
    if (typeof data !== 'string')
      throw new Fault('MESSAGE_UNREADABLE', { reason: 'binary where leeway.v1.json was agreed' });
    return fromProtoJson('ClientMessage', data) as ClientMessage;
  }
  if (typeof data === 'string')
    throw new Fault('MESSAGE_UNREADABLE', { reason: 'text where leeway.v1.proto was agreed' });
  let message: ClientMessage;
  try {
    message = leeway.v1.ClientMessage.decode(data);
  } catch (cause) {
    throw new Fault('MESSAGE_UNREADABLE', { reason: 'not a ClientMessage' }, cause);
  }
  for (const want of message.subscribe?.wants ?? []) {
    if (!isEnumValue('Feed', want.feed ?? 0)) {
      throw new Fault('ENUM_UNKNOWN', { where: 'ClientMessage.subscribe.wants.feed', value: want.feed ?? 0 });
    }
  }
  // bytes may hold several members of the oneof: the last counts, and protobufjs leaves the earlier ones in place
  return message.body === undefined ? {} : { [message.body]: message[message.body] };
}
