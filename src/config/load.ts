import type { Config } from './config.js';

/**
 * The configuration in force: defaults, over them the file, over that each `KEY=VALUE` in order.
 *
 * @param file path of a YAML file; undefined: none.
 * @param sets `KEY=VALUE` with a dotted key and a YAML value.
 * @throws {Fault} CONFIG_UNREADABLE, CONFIG_YAML_BAD, CONFIG_KEY_UNKNOWN, CONFIG_VALUE_BAD, TOKENS_NEEDED; USAGE_WRONG
 *   for a set without `=`.
 */
export declare function loadConfig(file?: string, sets?: readonly string[]): Config;
