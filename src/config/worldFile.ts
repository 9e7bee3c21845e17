import { fileLayer } from './layers.js';
import { readOver } from './read.js';
import { presetOf } from './schema.js';
import { type WorldFile, worldSchema } from './worldSchema.js';

/**
 * @param file path of a world file, YAML.
 * @throws {Fault} CONFIG_UNREADABLE, CONFIG_YAML_BAD, CONFIG_KEY_UNKNOWN, CONFIG_VALUE_BAD.
 */
export function readWorldFile(file: string): WorldFile {
  const layer = { ...fileLayer(file), root: worldSchema };
  return readOver(worldSchema, layer.raw, presetOf(worldSchema), layer);
}
