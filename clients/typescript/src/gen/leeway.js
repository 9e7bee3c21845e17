/*eslint-disable block-scoped-var, id-length, no-control-regex, no-magic-numbers, no-mixed-operators, no-prototype-builtins, no-redeclare, no-shadow, no-var, sort-vars, default-case, jsdoc/require-param*/
import $protobuf from "protobufjs/minimal.js";

// Common aliases
const $Reader = $protobuf.Reader, $Writer = $protobuf.Writer, $util = $protobuf.util;
const $Object = $util.global.Object, $undefined = $util.global.undefined, $Error = $util.global.Error, $RangeError = $util.global.RangeError;

// Exported root namespace
const $root = $protobuf.roots["default"] || ($protobuf.roots["default"] = {});

export const leeway = $root.leeway = (() => {

    /**
     * Namespace leeway.
     * @exports leeway
     * @namespace
     */
    const leeway = {};

    leeway.v1 = (function() {

        /**
         * Namespace v1.
         * @memberof leeway
         * @namespace
         */
        const v1 = {};

        v1.ClientMessage = (function() {

            /**
             * Properties of a ClientMessage.
             * @typedef {Object} leeway.v1.ClientMessage.$Properties
             * @property {leeway.v1.Subscribe.$Properties|null} [subscribe] ClientMessage subscribe
             * @property {leeway.v1.Odometry.$Properties|null} [odometry] ClientMessage odometry
             * @property {leeway.v1.Mark.$Properties|null} [mark] ClientMessage mark
             * @property {leeway.v1.Drive.$Properties|null} [drive] ClientMessage drive
             * @property {leeway.v1.Record.$Properties|null} [record] ClientMessage record
             * @property {leeway.v1.Keep.$Properties|null} [keep] ClientMessage keep
             * @property {leeway.v1.Replay.$Properties|null} [replay] ClientMessage replay
             * @property {"subscribe"|"odometry"|"mark"|"drive"|"record"|"keep"|"replay"} [body] ClientMessage body
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a ClientMessage.
             * @memberof leeway.v1
             * @interface IClientMessage
             * @augments leeway.v1.ClientMessage.$Properties
             * @deprecated Use leeway.v1.ClientMessage.$Properties instead.
             */

            /**
             * Narrowed shape of a ClientMessage.
             * @typedef {{
             *   subscribe?: leeway.v1.Subscribe.$Shape|null;
             *   odometry?: leeway.v1.Odometry.$Shape|null;
             *   mark?: leeway.v1.Mark.$Shape|null;
             *   drive?: leeway.v1.Drive.$Shape|null;
             *   record?: leeway.v1.Record.$Shape|null;
             *   keep?: leeway.v1.Keep.$Shape|null;
             *   replay?: leeway.v1.Replay.$Shape|null;
             *   $unknowns?: Array.<Uint8Array>;
             * } & (
             *   ({ body?: undefined; subscribe?: null; odometry?: null; mark?: null; drive?: null; record?: null; keep?: null; replay?: null }|{ body?: "subscribe"; subscribe: leeway.v1.Subscribe.$Shape; odometry?: null; mark?: null; drive?: null; record?: null; keep?: null; replay?: null }|{ body?: "odometry"; subscribe?: null; odometry: leeway.v1.Odometry.$Shape; mark?: null; drive?: null; record?: null; keep?: null; replay?: null }|{ body?: "mark"; subscribe?: null; odometry?: null; mark: leeway.v1.Mark.$Shape; drive?: null; record?: null; keep?: null; replay?: null }|{ body?: "drive"; subscribe?: null; odometry?: null; mark?: null; drive: leeway.v1.Drive.$Shape; record?: null; keep?: null; replay?: null }|{ body?: "record"; subscribe?: null; odometry?: null; mark?: null; drive?: null; record: leeway.v1.Record.$Shape; keep?: null; replay?: null }|{ body?: "keep"; subscribe?: null; odometry?: null; mark?: null; drive?: null; record?: null; keep: leeway.v1.Keep.$Shape; replay?: null }|{ body?: "replay"; subscribe?: null; odometry?: null; mark?: null; drive?: null; record?: null; keep?: null; replay: leeway.v1.Replay.$Shape })
             * )} leeway.v1.ClientMessage.$Shape
             */

            /**
             * Constructs a new ClientMessage.
             * @memberof leeway.v1
             * @classdesc Represents a ClientMessage.
             * @constructor
             * @param {leeway.v1.ClientMessage.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const ClientMessage = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * ClientMessage subscribe.
             * @member {leeway.v1.Subscribe.$Properties|null|undefined} subscribe
             * @memberof leeway.v1.ClientMessage
             * @instance
             */
            ClientMessage.prototype.subscribe = null;

            /**
             * ClientMessage odometry.
             * @member {leeway.v1.Odometry.$Properties|null|undefined} odometry
             * @memberof leeway.v1.ClientMessage
             * @instance
             */
            ClientMessage.prototype.odometry = null;

            /**
             * ClientMessage mark.
             * @member {leeway.v1.Mark.$Properties|null|undefined} mark
             * @memberof leeway.v1.ClientMessage
             * @instance
             */
            ClientMessage.prototype.mark = null;

            /**
             * ClientMessage drive.
             * @member {leeway.v1.Drive.$Properties|null|undefined} drive
             * @memberof leeway.v1.ClientMessage
             * @instance
             */
            ClientMessage.prototype.drive = null;

            /**
             * ClientMessage record.
             * @member {leeway.v1.Record.$Properties|null|undefined} record
             * @memberof leeway.v1.ClientMessage
             * @instance
             */
            ClientMessage.prototype.record = null;

            /**
             * ClientMessage keep.
             * @member {leeway.v1.Keep.$Properties|null|undefined} keep
             * @memberof leeway.v1.ClientMessage
             * @instance
             */
            ClientMessage.prototype.keep = null;

            /**
             * ClientMessage replay.
             * @member {leeway.v1.Replay.$Properties|null|undefined} replay
             * @memberof leeway.v1.ClientMessage
             * @instance
             */
            ClientMessage.prototype.replay = null;

            // OneOf field names bound to virtual getters and setters
            let $oneOfFields;

            /**
             * ClientMessage body.
             * @member {"subscribe"|"odometry"|"mark"|"drive"|"record"|"keep"|"replay"|undefined} body
             * @memberof leeway.v1.ClientMessage
             * @instance
             */
            $Object.defineProperty(ClientMessage.prototype, "body", {
                get: $util.oneOfGetter($oneOfFields = ["subscribe", "odometry", "mark", "drive", "record", "keep", "replay"]),
                set: $util.oneOfSetter($oneOfFields)
            });

            /**
             * Encodes the specified ClientMessage message. Does not implicitly {@link leeway.v1.ClientMessage.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.ClientMessage
             * @static
             * @param {leeway.v1.ClientMessage.$Properties} message ClientMessage message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            ClientMessage.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.subscribe != null && $Object.hasOwnProperty.call(message, "subscribe"))
                    $root.leeway.v1.Subscribe.encode(message.subscribe, writer.uint32(/* id 1, wireType 2 =*/10).fork(), _depth + 1).ldelim();
                if (message.odometry != null && $Object.hasOwnProperty.call(message, "odometry"))
                    $root.leeway.v1.Odometry.encode(message.odometry, writer.uint32(/* id 2, wireType 2 =*/18).fork(), _depth + 1).ldelim();
                if (message.mark != null && $Object.hasOwnProperty.call(message, "mark"))
                    $root.leeway.v1.Mark.encode(message.mark, writer.uint32(/* id 3, wireType 2 =*/26).fork(), _depth + 1).ldelim();
                if (message.drive != null && $Object.hasOwnProperty.call(message, "drive"))
                    $root.leeway.v1.Drive.encode(message.drive, writer.uint32(/* id 4, wireType 2 =*/34).fork(), _depth + 1).ldelim();
                if (message.record != null && $Object.hasOwnProperty.call(message, "record"))
                    $root.leeway.v1.Record.encode(message.record, writer.uint32(/* id 5, wireType 2 =*/42).fork(), _depth + 1).ldelim();
                if (message.keep != null && $Object.hasOwnProperty.call(message, "keep"))
                    $root.leeway.v1.Keep.encode(message.keep, writer.uint32(/* id 6, wireType 2 =*/50).fork(), _depth + 1).ldelim();
                if (message.replay != null && $Object.hasOwnProperty.call(message, "replay"))
                    $root.leeway.v1.Replay.encode(message.replay, writer.uint32(/* id 7, wireType 2 =*/58).fork(), _depth + 1).ldelim();
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a ClientMessage message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.ClientMessage
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.ClientMessage & leeway.v1.ClientMessage.$Shape} ClientMessage
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            ClientMessage.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.ClientMessage();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 2)
                                break;
                            message.subscribe = $root.leeway.v1.Subscribe.decode(reader, reader.size(), $undefined, _depth + 1, message.subscribe);
                            message.body = "subscribe";
                            continue;
                        }
                    case 2: {
                            if (wireType !== 2)
                                break;
                            message.odometry = $root.leeway.v1.Odometry.decode(reader, reader.size(), $undefined, _depth + 1, message.odometry);
                            message.body = "odometry";
                            continue;
                        }
                    case 3: {
                            if (wireType !== 2)
                                break;
                            message.mark = $root.leeway.v1.Mark.decode(reader, reader.size(), $undefined, _depth + 1, message.mark);
                            message.body = "mark";
                            continue;
                        }
                    case 4: {
                            if (wireType !== 2)
                                break;
                            message.drive = $root.leeway.v1.Drive.decode(reader, reader.size(), $undefined, _depth + 1, message.drive);
                            message.body = "drive";
                            continue;
                        }
                    case 5: {
                            if (wireType !== 2)
                                break;
                            message.record = $root.leeway.v1.Record.decode(reader, reader.size(), $undefined, _depth + 1, message.record);
                            message.body = "record";
                            continue;
                        }
                    case 6: {
                            if (wireType !== 2)
                                break;
                            message.keep = $root.leeway.v1.Keep.decode(reader, reader.size(), $undefined, _depth + 1, message.keep);
                            message.body = "keep";
                            continue;
                        }
                    case 7: {
                            if (wireType !== 2)
                                break;
                            message.replay = $root.leeway.v1.Replay.decode(reader, reader.size(), $undefined, _depth + 1, message.replay);
                            message.body = "replay";
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return ClientMessage;
        })();

        v1.Subscribe = (function() {

            /**
             * Properties of a Subscribe.
             * @typedef {Object} leeway.v1.Subscribe.$Properties
             * @property {Array.<leeway.v1.Want.$Properties>|null} [wants] Subscribe wants
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Subscribe.
             * @memberof leeway.v1
             * @interface ISubscribe
             * @augments leeway.v1.Subscribe.$Properties
             * @deprecated Use leeway.v1.Subscribe.$Properties instead.
             */

            /**
             * Shape of a Subscribe.
             * @typedef {leeway.v1.Subscribe.$Properties} leeway.v1.Subscribe.$Shape
             */

            /**
             * Constructs a new Subscribe.
             * @memberof leeway.v1
             * @classdesc Represents a Subscribe.
             * @constructor
             * @param {leeway.v1.Subscribe.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Subscribe = function (properties) {
                this.wants = [];
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Subscribe wants.
             * @member {Array.<leeway.v1.Want.$Properties>} wants
             * @memberof leeway.v1.Subscribe
             * @instance
             */
            Subscribe.prototype.wants = $util.emptyArray;

            /**
             * Encodes the specified Subscribe message. Does not implicitly {@link leeway.v1.Subscribe.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Subscribe
             * @static
             * @param {leeway.v1.Subscribe.$Properties} message Subscribe message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Subscribe.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.wants != null && message.wants.length)
                    for (let i = 0; i < message.wants.length; ++i)
                        $root.leeway.v1.Want.encode(message.wants[i], writer.uint32(/* id 1, wireType 2 =*/10).fork(), _depth + 1).ldelim();
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Subscribe message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Subscribe
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Subscribe & leeway.v1.Subscribe.$Shape} Subscribe
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Subscribe.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Subscribe();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 2)
                                break;
                            if (!(message.wants && message.wants.length))
                                message.wants = [];
                            message.wants.push($root.leeway.v1.Want.decode(reader, reader.size(), $undefined, _depth + 1));
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Subscribe;
        })();

        v1.Want = (function() {

            /**
             * Properties of a Want.
             * @typedef {Object} leeway.v1.Want.$Properties
             * @property {leeway.v1.Feed|null} [feed] Want feed
             * @property {number|null} [maxRateHz] Want maxRateHz
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Want.
             * @memberof leeway.v1
             * @interface IWant
             * @augments leeway.v1.Want.$Properties
             * @deprecated Use leeway.v1.Want.$Properties instead.
             */

            /**
             * Shape of a Want.
             * @typedef {leeway.v1.Want.$Properties} leeway.v1.Want.$Shape
             */

            /**
             * Constructs a new Want.
             * @memberof leeway.v1
             * @classdesc Represents a Want.
             * @constructor
             * @param {leeway.v1.Want.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Want = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Want feed.
             * @member {leeway.v1.Feed} feed
             * @memberof leeway.v1.Want
             * @instance
             */
            Want.prototype.feed = 0;

            /**
             * Want maxRateHz.
             * @member {number|null|undefined} maxRateHz
             * @memberof leeway.v1.Want
             * @instance
             */
            Want.prototype.maxRateHz = null;

            // OneOf field names bound to virtual getters and setters
            let $oneOfFields;

            // Virtual OneOf for proto3 optional field
            $Object.defineProperty(Want.prototype, "_maxRateHz", {
                get: $util.oneOfGetter($oneOfFields = ["maxRateHz"]),
                set: $util.oneOfSetter($oneOfFields)
            });

            /**
             * Encodes the specified Want message. Does not implicitly {@link leeway.v1.Want.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Want
             * @static
             * @param {leeway.v1.Want.$Properties} message Want message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Want.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.feed != null && $Object.hasOwnProperty.call(message, "feed") && message.feed !== 0)
                    writer.uint32(/* id 1, wireType 0 =*/8).int32(message.feed);
                if (message.maxRateHz != null && $Object.hasOwnProperty.call(message, "maxRateHz"))
                    writer.uint32(/* id 2, wireType 5 =*/21).float(message.maxRateHz);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Want message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Want
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Want & leeway.v1.Want.$Shape} Want
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Want.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Want();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.int32())
                                message.feed = value;
                            else
                                delete message.feed;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 5)
                                break;
                            message.maxRateHz = reader.float();
                            message._maxRateHz = "maxRateHz";
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Want;
        })();

        /**
         * Feed enum.
         * @name leeway.v1.Feed
         * @enum {number}
         * @property {number} FEED_UNSPECIFIED=0 FEED_UNSPECIFIED value
         * @property {number} FEED_SWEEP=1 FEED_SWEEP value
         * @property {number} FEED_CLEARANCE=2 FEED_CLEARANCE value
         * @property {number} FEED_SHAPES=3 FEED_SHAPES value
         * @property {number} FEED_MOVERS=4 FEED_MOVERS value
         * @property {number} FEED_MOTION=5 FEED_MOTION value
         * @property {number} FEED_HEALTH=6 FEED_HEALTH value
         * @property {number} FEED_RUN=7 FEED_RUN value
         */
        v1.Feed = (function() {
            const valuesById = $Object.create(null), values = $Object.create(valuesById);
            values[valuesById[0] = "FEED_UNSPECIFIED"] = 0;
            values[valuesById[1] = "FEED_SWEEP"] = 1;
            values[valuesById[2] = "FEED_CLEARANCE"] = 2;
            values[valuesById[3] = "FEED_SHAPES"] = 3;
            values[valuesById[4] = "FEED_MOVERS"] = 4;
            values[valuesById[5] = "FEED_MOTION"] = 5;
            values[valuesById[6] = "FEED_HEALTH"] = 6;
            values[valuesById[7] = "FEED_RUN"] = 7;
            return values;
        })();

        v1.ServerMessage = (function() {

            /**
             * Properties of a ServerMessage.
             * @typedef {Object} leeway.v1.ServerMessage.$Properties
             * @property {number|null} [sequence] ServerMessage sequence
             * @property {number|null} [timeS] ServerMessage timeS
             * @property {number|null} [sentS] ServerMessage sentS
             * @property {leeway.v1.Hello.$Properties|null} [hello] ServerMessage hello
             * @property {leeway.v1.Sweep.$Properties|null} [sweep] ServerMessage sweep
             * @property {leeway.v1.Clearance.$Properties|null} [clearance] ServerMessage clearance
             * @property {leeway.v1.Shapes.$Properties|null} [shapes] ServerMessage shapes
             * @property {leeway.v1.Movers.$Properties|null} [movers] ServerMessage movers
             * @property {leeway.v1.Motion.$Properties|null} [motion] ServerMessage motion
             * @property {leeway.v1.Health.$Properties|null} [health] ServerMessage health
             * @property {leeway.v1.RunEvent.$Properties|null} [run] ServerMessage run
             * @property {"hello"|"sweep"|"clearance"|"shapes"|"movers"|"motion"|"health"|"run"} [body] ServerMessage body
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a ServerMessage.
             * @memberof leeway.v1
             * @interface IServerMessage
             * @augments leeway.v1.ServerMessage.$Properties
             * @deprecated Use leeway.v1.ServerMessage.$Properties instead.
             */

            /**
             * Narrowed shape of a ServerMessage.
             * @typedef {{
             *   sequence?: number|null;
             *   timeS?: number|null;
             *   sentS?: number|null;
             *   hello?: leeway.v1.Hello.$Shape|null;
             *   sweep?: leeway.v1.Sweep.$Shape|null;
             *   clearance?: leeway.v1.Clearance.$Shape|null;
             *   shapes?: leeway.v1.Shapes.$Shape|null;
             *   movers?: leeway.v1.Movers.$Shape|null;
             *   motion?: leeway.v1.Motion.$Shape|null;
             *   health?: leeway.v1.Health.$Shape|null;
             *   run?: leeway.v1.RunEvent.$Shape|null;
             *   $unknowns?: Array.<Uint8Array>;
             * } & (
             *   ({ body?: undefined; hello?: null; sweep?: null; clearance?: null; shapes?: null; movers?: null; motion?: null; health?: null; run?: null }|{ body?: "hello"; hello: leeway.v1.Hello.$Shape; sweep?: null; clearance?: null; shapes?: null; movers?: null; motion?: null; health?: null; run?: null }|{ body?: "sweep"; hello?: null; sweep: leeway.v1.Sweep.$Shape; clearance?: null; shapes?: null; movers?: null; motion?: null; health?: null; run?: null }|{ body?: "clearance"; hello?: null; sweep?: null; clearance: leeway.v1.Clearance.$Shape; shapes?: null; movers?: null; motion?: null; health?: null; run?: null }|{ body?: "shapes"; hello?: null; sweep?: null; clearance?: null; shapes: leeway.v1.Shapes.$Shape; movers?: null; motion?: null; health?: null; run?: null }|{ body?: "movers"; hello?: null; sweep?: null; clearance?: null; shapes?: null; movers: leeway.v1.Movers.$Shape; motion?: null; health?: null; run?: null }|{ body?: "motion"; hello?: null; sweep?: null; clearance?: null; shapes?: null; movers?: null; motion: leeway.v1.Motion.$Shape; health?: null; run?: null }|{ body?: "health"; hello?: null; sweep?: null; clearance?: null; shapes?: null; movers?: null; motion?: null; health: leeway.v1.Health.$Shape; run?: null }|{ body?: "run"; hello?: null; sweep?: null; clearance?: null; shapes?: null; movers?: null; motion?: null; health?: null; run: leeway.v1.RunEvent.$Shape })
             * )} leeway.v1.ServerMessage.$Shape
             */

            /**
             * Constructs a new ServerMessage.
             * @memberof leeway.v1
             * @classdesc Represents a ServerMessage.
             * @constructor
             * @param {leeway.v1.ServerMessage.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const ServerMessage = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * ServerMessage sequence.
             * @member {number} sequence
             * @memberof leeway.v1.ServerMessage
             * @instance
             */
            ServerMessage.prototype.sequence = $util.Long ? $util.Long.fromBits(0,0,true) : 0;

            /**
             * ServerMessage timeS.
             * @member {number} timeS
             * @memberof leeway.v1.ServerMessage
             * @instance
             */
            ServerMessage.prototype.timeS = 0;

            /**
             * ServerMessage sentS.
             * @member {number} sentS
             * @memberof leeway.v1.ServerMessage
             * @instance
             */
            ServerMessage.prototype.sentS = 0;

            /**
             * ServerMessage hello.
             * @member {leeway.v1.Hello.$Properties|null|undefined} hello
             * @memberof leeway.v1.ServerMessage
             * @instance
             */
            ServerMessage.prototype.hello = null;

            /**
             * ServerMessage sweep.
             * @member {leeway.v1.Sweep.$Properties|null|undefined} sweep
             * @memberof leeway.v1.ServerMessage
             * @instance
             */
            ServerMessage.prototype.sweep = null;

            /**
             * ServerMessage clearance.
             * @member {leeway.v1.Clearance.$Properties|null|undefined} clearance
             * @memberof leeway.v1.ServerMessage
             * @instance
             */
            ServerMessage.prototype.clearance = null;

            /**
             * ServerMessage shapes.
             * @member {leeway.v1.Shapes.$Properties|null|undefined} shapes
             * @memberof leeway.v1.ServerMessage
             * @instance
             */
            ServerMessage.prototype.shapes = null;

            /**
             * ServerMessage movers.
             * @member {leeway.v1.Movers.$Properties|null|undefined} movers
             * @memberof leeway.v1.ServerMessage
             * @instance
             */
            ServerMessage.prototype.movers = null;

            /**
             * ServerMessage motion.
             * @member {leeway.v1.Motion.$Properties|null|undefined} motion
             * @memberof leeway.v1.ServerMessage
             * @instance
             */
            ServerMessage.prototype.motion = null;

            /**
             * ServerMessage health.
             * @member {leeway.v1.Health.$Properties|null|undefined} health
             * @memberof leeway.v1.ServerMessage
             * @instance
             */
            ServerMessage.prototype.health = null;

            /**
             * ServerMessage run.
             * @member {leeway.v1.RunEvent.$Properties|null|undefined} run
             * @memberof leeway.v1.ServerMessage
             * @instance
             */
            ServerMessage.prototype.run = null;

            // OneOf field names bound to virtual getters and setters
            let $oneOfFields;

            /**
             * ServerMessage body.
             * @member {"hello"|"sweep"|"clearance"|"shapes"|"movers"|"motion"|"health"|"run"|undefined} body
             * @memberof leeway.v1.ServerMessage
             * @instance
             */
            $Object.defineProperty(ServerMessage.prototype, "body", {
                get: $util.oneOfGetter($oneOfFields = ["hello", "sweep", "clearance", "shapes", "movers", "motion", "health", "run"]),
                set: $util.oneOfSetter($oneOfFields)
            });

            /**
             * Encodes the specified ServerMessage message. Does not implicitly {@link leeway.v1.ServerMessage.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.ServerMessage
             * @static
             * @param {leeway.v1.ServerMessage.$Properties} message ServerMessage message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            ServerMessage.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.sequence != null && $Object.hasOwnProperty.call(message, "sequence") && (typeof message.sequence === "object" ? message.sequence.low || message.sequence.high : message.sequence !== 0))
                    writer.uint32(/* id 1, wireType 0 =*/8).uint64(message.sequence);
                if (message.timeS != null && $Object.hasOwnProperty.call(message, "timeS") && !$Object.is(message.timeS, 0))
                    writer.uint32(/* id 2, wireType 1 =*/17).double(message.timeS);
                if (message.sentS != null && $Object.hasOwnProperty.call(message, "sentS") && !$Object.is(message.sentS, 0))
                    writer.uint32(/* id 3, wireType 1 =*/25).double(message.sentS);
                if (message.hello != null && $Object.hasOwnProperty.call(message, "hello"))
                    $root.leeway.v1.Hello.encode(message.hello, writer.uint32(/* id 4, wireType 2 =*/34).fork(), _depth + 1).ldelim();
                if (message.sweep != null && $Object.hasOwnProperty.call(message, "sweep"))
                    $root.leeway.v1.Sweep.encode(message.sweep, writer.uint32(/* id 5, wireType 2 =*/42).fork(), _depth + 1).ldelim();
                if (message.clearance != null && $Object.hasOwnProperty.call(message, "clearance"))
                    $root.leeway.v1.Clearance.encode(message.clearance, writer.uint32(/* id 6, wireType 2 =*/50).fork(), _depth + 1).ldelim();
                if (message.shapes != null && $Object.hasOwnProperty.call(message, "shapes"))
                    $root.leeway.v1.Shapes.encode(message.shapes, writer.uint32(/* id 7, wireType 2 =*/58).fork(), _depth + 1).ldelim();
                if (message.movers != null && $Object.hasOwnProperty.call(message, "movers"))
                    $root.leeway.v1.Movers.encode(message.movers, writer.uint32(/* id 8, wireType 2 =*/66).fork(), _depth + 1).ldelim();
                if (message.motion != null && $Object.hasOwnProperty.call(message, "motion"))
                    $root.leeway.v1.Motion.encode(message.motion, writer.uint32(/* id 9, wireType 2 =*/74).fork(), _depth + 1).ldelim();
                if (message.health != null && $Object.hasOwnProperty.call(message, "health"))
                    $root.leeway.v1.Health.encode(message.health, writer.uint32(/* id 10, wireType 2 =*/82).fork(), _depth + 1).ldelim();
                if (message.run != null && $Object.hasOwnProperty.call(message, "run"))
                    $root.leeway.v1.RunEvent.encode(message.run, writer.uint32(/* id 11, wireType 2 =*/90).fork(), _depth + 1).ldelim();
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a ServerMessage message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.ServerMessage
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.ServerMessage & leeway.v1.ServerMessage.$Shape} ServerMessage
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            ServerMessage.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.ServerMessage();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 0)
                                break;
                            if (typeof (value = reader.uint64()) === "object" ? value.low || value.high : value !== 0)
                                message.sequence = value;
                            else
                                delete message.sequence;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 1)
                                break;
                            if (!$Object.is(value = reader.double(), 0))
                                message.timeS = value;
                            else
                                delete message.timeS;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 1)
                                break;
                            if (!$Object.is(value = reader.double(), 0))
                                message.sentS = value;
                            else
                                delete message.sentS;
                            continue;
                        }
                    case 4: {
                            if (wireType !== 2)
                                break;
                            message.hello = $root.leeway.v1.Hello.decode(reader, reader.size(), $undefined, _depth + 1, message.hello);
                            message.body = "hello";
                            continue;
                        }
                    case 5: {
                            if (wireType !== 2)
                                break;
                            message.sweep = $root.leeway.v1.Sweep.decode(reader, reader.size(), $undefined, _depth + 1, message.sweep);
                            message.body = "sweep";
                            continue;
                        }
                    case 6: {
                            if (wireType !== 2)
                                break;
                            message.clearance = $root.leeway.v1.Clearance.decode(reader, reader.size(), $undefined, _depth + 1, message.clearance);
                            message.body = "clearance";
                            continue;
                        }
                    case 7: {
                            if (wireType !== 2)
                                break;
                            message.shapes = $root.leeway.v1.Shapes.decode(reader, reader.size(), $undefined, _depth + 1, message.shapes);
                            message.body = "shapes";
                            continue;
                        }
                    case 8: {
                            if (wireType !== 2)
                                break;
                            message.movers = $root.leeway.v1.Movers.decode(reader, reader.size(), $undefined, _depth + 1, message.movers);
                            message.body = "movers";
                            continue;
                        }
                    case 9: {
                            if (wireType !== 2)
                                break;
                            message.motion = $root.leeway.v1.Motion.decode(reader, reader.size(), $undefined, _depth + 1, message.motion);
                            message.body = "motion";
                            continue;
                        }
                    case 10: {
                            if (wireType !== 2)
                                break;
                            message.health = $root.leeway.v1.Health.decode(reader, reader.size(), $undefined, _depth + 1, message.health);
                            message.body = "health";
                            continue;
                        }
                    case 11: {
                            if (wireType !== 2)
                                break;
                            message.run = $root.leeway.v1.RunEvent.decode(reader, reader.size(), $undefined, _depth + 1, message.run);
                            message.body = "run";
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return ServerMessage;
        })();

        v1.Hello = (function() {

            /**
             * Properties of a Hello.
             * @typedef {Object} leeway.v1.Hello.$Properties
             * @property {string|null} [version] Hello version
             * @property {string|null} [rover] Hello rover
             * @property {string|null} [role] Hello role
             * @property {string|null} [source] Hello source
             * @property {Array.<leeway.v1.Point.$Properties>|null} [outlineM] Hello outlineM
             * @property {Array.<number>|null} [reachM] Hello reachM
             * @property {number|null} [stopM] Hello stopM
             * @property {string|null} [run] Hello run
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Hello.
             * @memberof leeway.v1
             * @interface IHello
             * @augments leeway.v1.Hello.$Properties
             * @deprecated Use leeway.v1.Hello.$Properties instead.
             */

            /**
             * Shape of a Hello.
             * @typedef {leeway.v1.Hello.$Properties} leeway.v1.Hello.$Shape
             */

            /**
             * Constructs a new Hello.
             * @memberof leeway.v1
             * @classdesc Represents a Hello.
             * @constructor
             * @param {leeway.v1.Hello.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Hello = function (properties) {
                this.outlineM = [];
                this.reachM = [];
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Hello version.
             * @member {string} version
             * @memberof leeway.v1.Hello
             * @instance
             */
            Hello.prototype.version = "";

            /**
             * Hello rover.
             * @member {string} rover
             * @memberof leeway.v1.Hello
             * @instance
             */
            Hello.prototype.rover = "";

            /**
             * Hello role.
             * @member {string} role
             * @memberof leeway.v1.Hello
             * @instance
             */
            Hello.prototype.role = "";

            /**
             * Hello source.
             * @member {string} source
             * @memberof leeway.v1.Hello
             * @instance
             */
            Hello.prototype.source = "";

            /**
             * Hello outlineM.
             * @member {Array.<leeway.v1.Point.$Properties>} outlineM
             * @memberof leeway.v1.Hello
             * @instance
             */
            Hello.prototype.outlineM = $util.emptyArray;

            /**
             * Hello reachM.
             * @member {Array.<number>} reachM
             * @memberof leeway.v1.Hello
             * @instance
             */
            Hello.prototype.reachM = $util.emptyArray;

            /**
             * Hello stopM.
             * @member {number} stopM
             * @memberof leeway.v1.Hello
             * @instance
             */
            Hello.prototype.stopM = 0;

            /**
             * Hello run.
             * @member {string} run
             * @memberof leeway.v1.Hello
             * @instance
             */
            Hello.prototype.run = "";

            /**
             * Encodes the specified Hello message. Does not implicitly {@link leeway.v1.Hello.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Hello
             * @static
             * @param {leeway.v1.Hello.$Properties} message Hello message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Hello.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.version != null && $Object.hasOwnProperty.call(message, "version") && message.version !== "")
                    writer.uint32(/* id 1, wireType 2 =*/10).string(message.version);
                if (message.rover != null && $Object.hasOwnProperty.call(message, "rover") && message.rover !== "")
                    writer.uint32(/* id 2, wireType 2 =*/18).string(message.rover);
                if (message.role != null && $Object.hasOwnProperty.call(message, "role") && message.role !== "")
                    writer.uint32(/* id 3, wireType 2 =*/26).string(message.role);
                if (message.source != null && $Object.hasOwnProperty.call(message, "source") && message.source !== "")
                    writer.uint32(/* id 4, wireType 2 =*/34).string(message.source);
                if (message.outlineM != null && message.outlineM.length)
                    for (let i = 0; i < message.outlineM.length; ++i)
                        $root.leeway.v1.Point.encode(message.outlineM[i], writer.uint32(/* id 5, wireType 2 =*/42).fork(), _depth + 1).ldelim();
                if (message.reachM != null && message.reachM.length)
                    writer.uint32(/* id 6, wireType 2 =*/50).floats(message.reachM);
                if (message.stopM != null && $Object.hasOwnProperty.call(message, "stopM") && !$Object.is(message.stopM, 0))
                    writer.uint32(/* id 7, wireType 5 =*/61).float(message.stopM);
                if (message.run != null && $Object.hasOwnProperty.call(message, "run") && message.run !== "")
                    writer.uint32(/* id 8, wireType 2 =*/66).string(message.run);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Hello message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Hello
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Hello & leeway.v1.Hello.$Shape} Hello
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Hello.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Hello();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.version = value;
                            else
                                delete message.version;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.rover = value;
                            else
                                delete message.rover;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.role = value;
                            else
                                delete message.role;
                            continue;
                        }
                    case 4: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.source = value;
                            else
                                delete message.source;
                            continue;
                        }
                    case 5: {
                            if (wireType !== 2)
                                break;
                            if (!(message.outlineM && message.outlineM.length))
                                message.outlineM = [];
                            message.outlineM.push($root.leeway.v1.Point.decode(reader, reader.size(), $undefined, _depth + 1));
                            continue;
                        }
                    case 6: {
                            if (wireType === 2) {
                                if (!(message.reachM && message.reachM.length))
                                    message.reachM = [];
                                reader.floats(message.reachM);
                                continue;
                            }
                            if (wireType !== 5)
                                break;
                            if (!(message.reachM && message.reachM.length))
                                message.reachM = [];
                            message.reachM.push(reader.float());
                            continue;
                        }
                    case 7: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.stopM = value;
                            else
                                delete message.stopM;
                            continue;
                        }
                    case 8: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.run = value;
                            else
                                delete message.run;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Hello;
        })();

        v1.Point = (function() {

            /**
             * Properties of a Point.
             * @typedef {Object} leeway.v1.Point.$Properties
             * @property {number|null} [xM] Point xM
             * @property {number|null} [yM] Point yM
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Point.
             * @memberof leeway.v1
             * @interface IPoint
             * @augments leeway.v1.Point.$Properties
             * @deprecated Use leeway.v1.Point.$Properties instead.
             */

            /**
             * Shape of a Point.
             * @typedef {leeway.v1.Point.$Properties} leeway.v1.Point.$Shape
             */

            /**
             * Constructs a new Point.
             * @memberof leeway.v1
             * @classdesc Represents a Point.
             * @constructor
             * @param {leeway.v1.Point.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Point = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Point xM.
             * @member {number} xM
             * @memberof leeway.v1.Point
             * @instance
             */
            Point.prototype.xM = 0;

            /**
             * Point yM.
             * @member {number} yM
             * @memberof leeway.v1.Point
             * @instance
             */
            Point.prototype.yM = 0;

            /**
             * Encodes the specified Point message. Does not implicitly {@link leeway.v1.Point.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Point
             * @static
             * @param {leeway.v1.Point.$Properties} message Point message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Point.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.xM != null && $Object.hasOwnProperty.call(message, "xM") && !$Object.is(message.xM, 0))
                    writer.uint32(/* id 1, wireType 5 =*/13).float(message.xM);
                if (message.yM != null && $Object.hasOwnProperty.call(message, "yM") && !$Object.is(message.yM, 0))
                    writer.uint32(/* id 2, wireType 5 =*/21).float(message.yM);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Point message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Point
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Point & leeway.v1.Point.$Shape} Point
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Point.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Point();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.xM = value;
                            else
                                delete message.xM;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.yM = value;
                            else
                                delete message.yM;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Point;
        })();

        v1.Clearance = (function() {

            /**
             * Properties of a Clearance.
             * @typedef {Object} leeway.v1.Clearance.$Properties
             * @property {number|null} [firstBearingRad] Clearance firstBearingRad
             * @property {Array.<leeway.v1.SectorState>|null} [state] Clearance state
             * @property {Array.<number>|null} [leewayM] Clearance leewayM
             * @property {Array.<number>|null} [nearestM] Clearance nearestM
             * @property {Array.<number>|null} [ageS] Clearance ageS
             * @property {Array.<number>|null} [thinnestM] Clearance thinnestM
             * @property {number|null} [aheadM] Clearance aheadM
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Clearance.
             * @memberof leeway.v1
             * @interface IClearance
             * @augments leeway.v1.Clearance.$Properties
             * @deprecated Use leeway.v1.Clearance.$Properties instead.
             */

            /**
             * Shape of a Clearance.
             * @typedef {leeway.v1.Clearance.$Properties} leeway.v1.Clearance.$Shape
             */

            /**
             * Constructs a new Clearance.
             * @memberof leeway.v1
             * @classdesc Represents a Clearance.
             * @constructor
             * @param {leeway.v1.Clearance.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Clearance = function (properties) {
                this.state = [];
                this.leewayM = [];
                this.nearestM = [];
                this.ageS = [];
                this.thinnestM = [];
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Clearance firstBearingRad.
             * @member {number} firstBearingRad
             * @memberof leeway.v1.Clearance
             * @instance
             */
            Clearance.prototype.firstBearingRad = 0;

            /**
             * Clearance state.
             * @member {Array.<leeway.v1.SectorState>} state
             * @memberof leeway.v1.Clearance
             * @instance
             */
            Clearance.prototype.state = $util.emptyArray;

            /**
             * Clearance leewayM.
             * @member {Array.<number>} leewayM
             * @memberof leeway.v1.Clearance
             * @instance
             */
            Clearance.prototype.leewayM = $util.emptyArray;

            /**
             * Clearance nearestM.
             * @member {Array.<number>} nearestM
             * @memberof leeway.v1.Clearance
             * @instance
             */
            Clearance.prototype.nearestM = $util.emptyArray;

            /**
             * Clearance ageS.
             * @member {Array.<number>} ageS
             * @memberof leeway.v1.Clearance
             * @instance
             */
            Clearance.prototype.ageS = $util.emptyArray;

            /**
             * Clearance thinnestM.
             * @member {Array.<number>} thinnestM
             * @memberof leeway.v1.Clearance
             * @instance
             */
            Clearance.prototype.thinnestM = $util.emptyArray;

            /**
             * Clearance aheadM.
             * @member {number} aheadM
             * @memberof leeway.v1.Clearance
             * @instance
             */
            Clearance.prototype.aheadM = 0;

            /**
             * Encodes the specified Clearance message. Does not implicitly {@link leeway.v1.Clearance.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Clearance
             * @static
             * @param {leeway.v1.Clearance.$Properties} message Clearance message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Clearance.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.firstBearingRad != null && $Object.hasOwnProperty.call(message, "firstBearingRad") && !$Object.is(message.firstBearingRad, 0))
                    writer.uint32(/* id 1, wireType 5 =*/13).float(message.firstBearingRad);
                if (message.state != null && message.state.length)
                    writer.uint32(/* id 2, wireType 2 =*/18).int32s(message.state);
                if (message.leewayM != null && message.leewayM.length)
                    writer.uint32(/* id 3, wireType 2 =*/26).floats(message.leewayM);
                if (message.nearestM != null && message.nearestM.length)
                    writer.uint32(/* id 4, wireType 2 =*/34).floats(message.nearestM);
                if (message.ageS != null && message.ageS.length)
                    writer.uint32(/* id 5, wireType 2 =*/42).floats(message.ageS);
                if (message.thinnestM != null && message.thinnestM.length)
                    writer.uint32(/* id 6, wireType 2 =*/50).floats(message.thinnestM);
                if (message.aheadM != null && $Object.hasOwnProperty.call(message, "aheadM") && !$Object.is(message.aheadM, 0))
                    writer.uint32(/* id 7, wireType 5 =*/61).float(message.aheadM);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Clearance message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Clearance
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Clearance & leeway.v1.Clearance.$Shape} Clearance
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Clearance.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Clearance();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.firstBearingRad = value;
                            else
                                delete message.firstBearingRad;
                            continue;
                        }
                    case 2: {
                            if (wireType === 2) {
                                if (!(message.state && message.state.length))
                                    message.state = [];
                                reader.int32s(message.state);
                                continue;
                            }
                            if (wireType !== 0)
                                break;
                            if (!(message.state && message.state.length))
                                message.state = [];
                            message.state.push(reader.int32());
                            continue;
                        }
                    case 3: {
                            if (wireType === 2) {
                                if (!(message.leewayM && message.leewayM.length))
                                    message.leewayM = [];
                                reader.floats(message.leewayM);
                                continue;
                            }
                            if (wireType !== 5)
                                break;
                            if (!(message.leewayM && message.leewayM.length))
                                message.leewayM = [];
                            message.leewayM.push(reader.float());
                            continue;
                        }
                    case 4: {
                            if (wireType === 2) {
                                if (!(message.nearestM && message.nearestM.length))
                                    message.nearestM = [];
                                reader.floats(message.nearestM);
                                continue;
                            }
                            if (wireType !== 5)
                                break;
                            if (!(message.nearestM && message.nearestM.length))
                                message.nearestM = [];
                            message.nearestM.push(reader.float());
                            continue;
                        }
                    case 5: {
                            if (wireType === 2) {
                                if (!(message.ageS && message.ageS.length))
                                    message.ageS = [];
                                reader.floats(message.ageS);
                                continue;
                            }
                            if (wireType !== 5)
                                break;
                            if (!(message.ageS && message.ageS.length))
                                message.ageS = [];
                            message.ageS.push(reader.float());
                            continue;
                        }
                    case 6: {
                            if (wireType === 2) {
                                if (!(message.thinnestM && message.thinnestM.length))
                                    message.thinnestM = [];
                                reader.floats(message.thinnestM);
                                continue;
                            }
                            if (wireType !== 5)
                                break;
                            if (!(message.thinnestM && message.thinnestM.length))
                                message.thinnestM = [];
                            message.thinnestM.push(reader.float());
                            continue;
                        }
                    case 7: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.aheadM = value;
                            else
                                delete message.aheadM;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Clearance;
        })();

        /**
         * SectorState enum.
         * @name leeway.v1.SectorState
         * @enum {number}
         * @property {number} SECTOR_STATE_UNSPECIFIED=0 SECTOR_STATE_UNSPECIFIED value
         * @property {number} SECTOR_STATE_UNKNOWN=1 SECTOR_STATE_UNKNOWN value
         * @property {number} SECTOR_STATE_CLEAR=2 SECTOR_STATE_CLEAR value
         * @property {number} SECTOR_STATE_OBSTACLE=3 SECTOR_STATE_OBSTACLE value
         */
        v1.SectorState = (function() {
            const valuesById = $Object.create(null), values = $Object.create(valuesById);
            values[valuesById[0] = "SECTOR_STATE_UNSPECIFIED"] = 0;
            values[valuesById[1] = "SECTOR_STATE_UNKNOWN"] = 1;
            values[valuesById[2] = "SECTOR_STATE_CLEAR"] = 2;
            values[valuesById[3] = "SECTOR_STATE_OBSTACLE"] = 3;
            return values;
        })();

        v1.Health = (function() {

            /**
             * Properties of a Health.
             * @typedef {Object} leeway.v1.Health.$Properties
             * @property {leeway.v1.HealthState|null} [state] Health state
             * @property {number|null} [spinHz] Health spinHz
             * @property {number|null} [echoesPerS] Health echoesPerS
             * @property {number|null} [validShare] Health validShare
             * @property {number|null} [receivedBytes] Health receivedBytes
             * @property {number|null} [skippedBytes] Health skippedBytes
             * @property {number|null} [badChecks] Health badChecks
             * @property {number|null} [blindBeyondOutlineM] Health blindBeyondOutlineM
             * @property {Array.<leeway.v1.Finding.$Properties>|null} [findings] Health findings
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Health.
             * @memberof leeway.v1
             * @interface IHealth
             * @augments leeway.v1.Health.$Properties
             * @deprecated Use leeway.v1.Health.$Properties instead.
             */

            /**
             * Shape of a Health.
             * @typedef {leeway.v1.Health.$Properties} leeway.v1.Health.$Shape
             */

            /**
             * Constructs a new Health.
             * @memberof leeway.v1
             * @classdesc Represents a Health.
             * @constructor
             * @param {leeway.v1.Health.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Health = function (properties) {
                this.findings = [];
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Health state.
             * @member {leeway.v1.HealthState} state
             * @memberof leeway.v1.Health
             * @instance
             */
            Health.prototype.state = 0;

            /**
             * Health spinHz.
             * @member {number} spinHz
             * @memberof leeway.v1.Health
             * @instance
             */
            Health.prototype.spinHz = 0;

            /**
             * Health echoesPerS.
             * @member {number} echoesPerS
             * @memberof leeway.v1.Health
             * @instance
             */
            Health.prototype.echoesPerS = 0;

            /**
             * Health validShare.
             * @member {number} validShare
             * @memberof leeway.v1.Health
             * @instance
             */
            Health.prototype.validShare = 0;

            /**
             * Health receivedBytes.
             * @member {number} receivedBytes
             * @memberof leeway.v1.Health
             * @instance
             */
            Health.prototype.receivedBytes = $util.Long ? $util.Long.fromBits(0,0,true) : 0;

            /**
             * Health skippedBytes.
             * @member {number} skippedBytes
             * @memberof leeway.v1.Health
             * @instance
             */
            Health.prototype.skippedBytes = $util.Long ? $util.Long.fromBits(0,0,true) : 0;

            /**
             * Health badChecks.
             * @member {number} badChecks
             * @memberof leeway.v1.Health
             * @instance
             */
            Health.prototype.badChecks = $util.Long ? $util.Long.fromBits(0,0,true) : 0;

            /**
             * Health blindBeyondOutlineM.
             * @member {number} blindBeyondOutlineM
             * @memberof leeway.v1.Health
             * @instance
             */
            Health.prototype.blindBeyondOutlineM = 0;

            /**
             * Health findings.
             * @member {Array.<leeway.v1.Finding.$Properties>} findings
             * @memberof leeway.v1.Health
             * @instance
             */
            Health.prototype.findings = $util.emptyArray;

            /**
             * Encodes the specified Health message. Does not implicitly {@link leeway.v1.Health.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Health
             * @static
             * @param {leeway.v1.Health.$Properties} message Health message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Health.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.state != null && $Object.hasOwnProperty.call(message, "state") && message.state !== 0)
                    writer.uint32(/* id 1, wireType 0 =*/8).int32(message.state);
                if (message.spinHz != null && $Object.hasOwnProperty.call(message, "spinHz") && !$Object.is(message.spinHz, 0))
                    writer.uint32(/* id 2, wireType 5 =*/21).float(message.spinHz);
                if (message.echoesPerS != null && $Object.hasOwnProperty.call(message, "echoesPerS") && !$Object.is(message.echoesPerS, 0))
                    writer.uint32(/* id 3, wireType 5 =*/29).float(message.echoesPerS);
                if (message.validShare != null && $Object.hasOwnProperty.call(message, "validShare") && !$Object.is(message.validShare, 0))
                    writer.uint32(/* id 4, wireType 5 =*/37).float(message.validShare);
                if (message.receivedBytes != null && $Object.hasOwnProperty.call(message, "receivedBytes") && (typeof message.receivedBytes === "object" ? message.receivedBytes.low || message.receivedBytes.high : message.receivedBytes !== 0))
                    writer.uint32(/* id 5, wireType 0 =*/40).uint64(message.receivedBytes);
                if (message.skippedBytes != null && $Object.hasOwnProperty.call(message, "skippedBytes") && (typeof message.skippedBytes === "object" ? message.skippedBytes.low || message.skippedBytes.high : message.skippedBytes !== 0))
                    writer.uint32(/* id 6, wireType 0 =*/48).uint64(message.skippedBytes);
                if (message.badChecks != null && $Object.hasOwnProperty.call(message, "badChecks") && (typeof message.badChecks === "object" ? message.badChecks.low || message.badChecks.high : message.badChecks !== 0))
                    writer.uint32(/* id 7, wireType 0 =*/56).uint64(message.badChecks);
                if (message.blindBeyondOutlineM != null && $Object.hasOwnProperty.call(message, "blindBeyondOutlineM") && !$Object.is(message.blindBeyondOutlineM, 0))
                    writer.uint32(/* id 8, wireType 5 =*/69).float(message.blindBeyondOutlineM);
                if (message.findings != null && message.findings.length)
                    for (let i = 0; i < message.findings.length; ++i)
                        $root.leeway.v1.Finding.encode(message.findings[i], writer.uint32(/* id 9, wireType 2 =*/74).fork(), _depth + 1).ldelim();
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Health message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Health
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Health & leeway.v1.Health.$Shape} Health
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Health.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Health();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.int32())
                                message.state = value;
                            else
                                delete message.state;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.spinHz = value;
                            else
                                delete message.spinHz;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.echoesPerS = value;
                            else
                                delete message.echoesPerS;
                            continue;
                        }
                    case 4: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.validShare = value;
                            else
                                delete message.validShare;
                            continue;
                        }
                    case 5: {
                            if (wireType !== 0)
                                break;
                            if (typeof (value = reader.uint64()) === "object" ? value.low || value.high : value !== 0)
                                message.receivedBytes = value;
                            else
                                delete message.receivedBytes;
                            continue;
                        }
                    case 6: {
                            if (wireType !== 0)
                                break;
                            if (typeof (value = reader.uint64()) === "object" ? value.low || value.high : value !== 0)
                                message.skippedBytes = value;
                            else
                                delete message.skippedBytes;
                            continue;
                        }
                    case 7: {
                            if (wireType !== 0)
                                break;
                            if (typeof (value = reader.uint64()) === "object" ? value.low || value.high : value !== 0)
                                message.badChecks = value;
                            else
                                delete message.badChecks;
                            continue;
                        }
                    case 8: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.blindBeyondOutlineM = value;
                            else
                                delete message.blindBeyondOutlineM;
                            continue;
                        }
                    case 9: {
                            if (wireType !== 2)
                                break;
                            if (!(message.findings && message.findings.length))
                                message.findings = [];
                            message.findings.push($root.leeway.v1.Finding.decode(reader, reader.size(), $undefined, _depth + 1));
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Health;
        })();

        /**
         * HealthState enum.
         * @name leeway.v1.HealthState
         * @enum {number}
         * @property {number} HEALTH_STATE_UNSPECIFIED=0 HEALTH_STATE_UNSPECIFIED value
         * @property {number} HEALTH_STATE_OK=1 HEALTH_STATE_OK value
         * @property {number} HEALTH_STATE_DEGRADED=2 HEALTH_STATE_DEGRADED value
         * @property {number} HEALTH_STATE_BLIND=3 HEALTH_STATE_BLIND value
         */
        v1.HealthState = (function() {
            const valuesById = $Object.create(null), values = $Object.create(valuesById);
            values[valuesById[0] = "HEALTH_STATE_UNSPECIFIED"] = 0;
            values[valuesById[1] = "HEALTH_STATE_OK"] = 1;
            values[valuesById[2] = "HEALTH_STATE_DEGRADED"] = 2;
            values[valuesById[3] = "HEALTH_STATE_BLIND"] = 3;
            return values;
        })();

        v1.Finding = (function() {

            /**
             * Properties of a Finding.
             * @typedef {Object} leeway.v1.Finding.$Properties
             * @property {string|null} [code] Finding code
             * @property {string|null} [what] Finding what
             * @property {string|null} [remedy] Finding remedy
             * @property {number|null} [sinceS] Finding sinceS
             * @property {number|null} [fromRad] Finding fromRad
             * @property {number|null} [toRad] Finding toRad
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Finding.
             * @memberof leeway.v1
             * @interface IFinding
             * @augments leeway.v1.Finding.$Properties
             * @deprecated Use leeway.v1.Finding.$Properties instead.
             */

            /**
             * Shape of a Finding.
             * @typedef {leeway.v1.Finding.$Properties} leeway.v1.Finding.$Shape
             */

            /**
             * Constructs a new Finding.
             * @memberof leeway.v1
             * @classdesc Represents a Finding.
             * @constructor
             * @param {leeway.v1.Finding.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Finding = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Finding code.
             * @member {string} code
             * @memberof leeway.v1.Finding
             * @instance
             */
            Finding.prototype.code = "";

            /**
             * Finding what.
             * @member {string} what
             * @memberof leeway.v1.Finding
             * @instance
             */
            Finding.prototype.what = "";

            /**
             * Finding remedy.
             * @member {string} remedy
             * @memberof leeway.v1.Finding
             * @instance
             */
            Finding.prototype.remedy = "";

            /**
             * Finding sinceS.
             * @member {number} sinceS
             * @memberof leeway.v1.Finding
             * @instance
             */
            Finding.prototype.sinceS = 0;

            /**
             * Finding fromRad.
             * @member {number|null|undefined} fromRad
             * @memberof leeway.v1.Finding
             * @instance
             */
            Finding.prototype.fromRad = null;

            /**
             * Finding toRad.
             * @member {number|null|undefined} toRad
             * @memberof leeway.v1.Finding
             * @instance
             */
            Finding.prototype.toRad = null;

            // OneOf field names bound to virtual getters and setters
            let $oneOfFields;

            // Virtual OneOf for proto3 optional field
            $Object.defineProperty(Finding.prototype, "_fromRad", {
                get: $util.oneOfGetter($oneOfFields = ["fromRad"]),
                set: $util.oneOfSetter($oneOfFields)
            });

            // Virtual OneOf for proto3 optional field
            $Object.defineProperty(Finding.prototype, "_toRad", {
                get: $util.oneOfGetter($oneOfFields = ["toRad"]),
                set: $util.oneOfSetter($oneOfFields)
            });

            /**
             * Encodes the specified Finding message. Does not implicitly {@link leeway.v1.Finding.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Finding
             * @static
             * @param {leeway.v1.Finding.$Properties} message Finding message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Finding.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.code != null && $Object.hasOwnProperty.call(message, "code") && message.code !== "")
                    writer.uint32(/* id 1, wireType 2 =*/10).string(message.code);
                if (message.what != null && $Object.hasOwnProperty.call(message, "what") && message.what !== "")
                    writer.uint32(/* id 2, wireType 2 =*/18).string(message.what);
                if (message.remedy != null && $Object.hasOwnProperty.call(message, "remedy") && message.remedy !== "")
                    writer.uint32(/* id 3, wireType 2 =*/26).string(message.remedy);
                if (message.sinceS != null && $Object.hasOwnProperty.call(message, "sinceS") && !$Object.is(message.sinceS, 0))
                    writer.uint32(/* id 4, wireType 1 =*/33).double(message.sinceS);
                if (message.fromRad != null && $Object.hasOwnProperty.call(message, "fromRad"))
                    writer.uint32(/* id 5, wireType 5 =*/45).float(message.fromRad);
                if (message.toRad != null && $Object.hasOwnProperty.call(message, "toRad"))
                    writer.uint32(/* id 6, wireType 5 =*/53).float(message.toRad);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Finding message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Finding
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Finding & leeway.v1.Finding.$Shape} Finding
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Finding.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Finding();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.code = value;
                            else
                                delete message.code;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.what = value;
                            else
                                delete message.what;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.remedy = value;
                            else
                                delete message.remedy;
                            continue;
                        }
                    case 4: {
                            if (wireType !== 1)
                                break;
                            if (!$Object.is(value = reader.double(), 0))
                                message.sinceS = value;
                            else
                                delete message.sinceS;
                            continue;
                        }
                    case 5: {
                            if (wireType !== 5)
                                break;
                            message.fromRad = reader.float();
                            message._fromRad = "fromRad";
                            continue;
                        }
                    case 6: {
                            if (wireType !== 5)
                                break;
                            message.toRad = reader.float();
                            message._toRad = "toRad";
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Finding;
        })();

        v1.Motion = (function() {

            /**
             * Properties of a Motion.
             * @typedef {Object} leeway.v1.Motion.$Properties
             * @property {number|null} [xM] Motion xM
             * @property {number|null} [yM] Motion yM
             * @property {number|null} [headingRad] Motion headingRad
             * @property {number|null} [vxMps] Motion vxMps
             * @property {number|null} [vyMps] Motion vyMps
             * @property {number|null} [turnRadps] Motion turnRadps
             * @property {Array.<number>|null} [covariance] Motion covariance
             * @property {number|null} [quality] Motion quality
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Motion.
             * @memberof leeway.v1
             * @interface IMotion
             * @augments leeway.v1.Motion.$Properties
             * @deprecated Use leeway.v1.Motion.$Properties instead.
             */

            /**
             * Shape of a Motion.
             * @typedef {leeway.v1.Motion.$Properties} leeway.v1.Motion.$Shape
             */

            /**
             * Constructs a new Motion.
             * @memberof leeway.v1
             * @classdesc Represents a Motion.
             * @constructor
             * @param {leeway.v1.Motion.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Motion = function (properties) {
                this.covariance = [];
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Motion xM.
             * @member {number} xM
             * @memberof leeway.v1.Motion
             * @instance
             */
            Motion.prototype.xM = 0;

            /**
             * Motion yM.
             * @member {number} yM
             * @memberof leeway.v1.Motion
             * @instance
             */
            Motion.prototype.yM = 0;

            /**
             * Motion headingRad.
             * @member {number} headingRad
             * @memberof leeway.v1.Motion
             * @instance
             */
            Motion.prototype.headingRad = 0;

            /**
             * Motion vxMps.
             * @member {number} vxMps
             * @memberof leeway.v1.Motion
             * @instance
             */
            Motion.prototype.vxMps = 0;

            /**
             * Motion vyMps.
             * @member {number} vyMps
             * @memberof leeway.v1.Motion
             * @instance
             */
            Motion.prototype.vyMps = 0;

            /**
             * Motion turnRadps.
             * @member {number} turnRadps
             * @memberof leeway.v1.Motion
             * @instance
             */
            Motion.prototype.turnRadps = 0;

            /**
             * Motion covariance.
             * @member {Array.<number>} covariance
             * @memberof leeway.v1.Motion
             * @instance
             */
            Motion.prototype.covariance = $util.emptyArray;

            /**
             * Motion quality.
             * @member {number} quality
             * @memberof leeway.v1.Motion
             * @instance
             */
            Motion.prototype.quality = 0;

            /**
             * Encodes the specified Motion message. Does not implicitly {@link leeway.v1.Motion.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Motion
             * @static
             * @param {leeway.v1.Motion.$Properties} message Motion message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Motion.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.xM != null && $Object.hasOwnProperty.call(message, "xM") && !$Object.is(message.xM, 0))
                    writer.uint32(/* id 1, wireType 1 =*/9).double(message.xM);
                if (message.yM != null && $Object.hasOwnProperty.call(message, "yM") && !$Object.is(message.yM, 0))
                    writer.uint32(/* id 2, wireType 1 =*/17).double(message.yM);
                if (message.headingRad != null && $Object.hasOwnProperty.call(message, "headingRad") && !$Object.is(message.headingRad, 0))
                    writer.uint32(/* id 3, wireType 1 =*/25).double(message.headingRad);
                if (message.vxMps != null && $Object.hasOwnProperty.call(message, "vxMps") && !$Object.is(message.vxMps, 0))
                    writer.uint32(/* id 4, wireType 5 =*/37).float(message.vxMps);
                if (message.vyMps != null && $Object.hasOwnProperty.call(message, "vyMps") && !$Object.is(message.vyMps, 0))
                    writer.uint32(/* id 5, wireType 5 =*/45).float(message.vyMps);
                if (message.turnRadps != null && $Object.hasOwnProperty.call(message, "turnRadps") && !$Object.is(message.turnRadps, 0))
                    writer.uint32(/* id 6, wireType 5 =*/53).float(message.turnRadps);
                if (message.covariance != null && message.covariance.length)
                    writer.uint32(/* id 7, wireType 2 =*/58).floats(message.covariance);
                if (message.quality != null && $Object.hasOwnProperty.call(message, "quality") && !$Object.is(message.quality, 0))
                    writer.uint32(/* id 8, wireType 5 =*/69).float(message.quality);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Motion message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Motion
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Motion & leeway.v1.Motion.$Shape} Motion
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Motion.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Motion();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 1)
                                break;
                            if (!$Object.is(value = reader.double(), 0))
                                message.xM = value;
                            else
                                delete message.xM;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 1)
                                break;
                            if (!$Object.is(value = reader.double(), 0))
                                message.yM = value;
                            else
                                delete message.yM;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 1)
                                break;
                            if (!$Object.is(value = reader.double(), 0))
                                message.headingRad = value;
                            else
                                delete message.headingRad;
                            continue;
                        }
                    case 4: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.vxMps = value;
                            else
                                delete message.vxMps;
                            continue;
                        }
                    case 5: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.vyMps = value;
                            else
                                delete message.vyMps;
                            continue;
                        }
                    case 6: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.turnRadps = value;
                            else
                                delete message.turnRadps;
                            continue;
                        }
                    case 7: {
                            if (wireType === 2) {
                                if (!(message.covariance && message.covariance.length))
                                    message.covariance = [];
                                reader.floats(message.covariance);
                                continue;
                            }
                            if (wireType !== 5)
                                break;
                            if (!(message.covariance && message.covariance.length))
                                message.covariance = [];
                            message.covariance.push(reader.float());
                            continue;
                        }
                    case 8: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.quality = value;
                            else
                                delete message.quality;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Motion;
        })();

        v1.Odometry = (function() {

            /**
             * Properties of an Odometry.
             * @typedef {Object} leeway.v1.Odometry.$Properties
             * @property {number|null} [timeS] Odometry timeS
             * @property {number|null} [xM] Odometry xM
             * @property {number|null} [yM] Odometry yM
             * @property {number|null} [headingRad] Odometry headingRad
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of an Odometry.
             * @memberof leeway.v1
             * @interface IOdometry
             * @augments leeway.v1.Odometry.$Properties
             * @deprecated Use leeway.v1.Odometry.$Properties instead.
             */

            /**
             * Shape of an Odometry.
             * @typedef {leeway.v1.Odometry.$Properties} leeway.v1.Odometry.$Shape
             */

            /**
             * Constructs a new Odometry.
             * @memberof leeway.v1
             * @classdesc Represents an Odometry.
             * @constructor
             * @param {leeway.v1.Odometry.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Odometry = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Odometry timeS.
             * @member {number} timeS
             * @memberof leeway.v1.Odometry
             * @instance
             */
            Odometry.prototype.timeS = 0;

            /**
             * Odometry xM.
             * @member {number} xM
             * @memberof leeway.v1.Odometry
             * @instance
             */
            Odometry.prototype.xM = 0;

            /**
             * Odometry yM.
             * @member {number} yM
             * @memberof leeway.v1.Odometry
             * @instance
             */
            Odometry.prototype.yM = 0;

            /**
             * Odometry headingRad.
             * @member {number} headingRad
             * @memberof leeway.v1.Odometry
             * @instance
             */
            Odometry.prototype.headingRad = 0;

            /**
             * Encodes the specified Odometry message. Does not implicitly {@link leeway.v1.Odometry.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Odometry
             * @static
             * @param {leeway.v1.Odometry.$Properties} message Odometry message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Odometry.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.timeS != null && $Object.hasOwnProperty.call(message, "timeS") && !$Object.is(message.timeS, 0))
                    writer.uint32(/* id 1, wireType 1 =*/9).double(message.timeS);
                if (message.xM != null && $Object.hasOwnProperty.call(message, "xM") && !$Object.is(message.xM, 0))
                    writer.uint32(/* id 2, wireType 5 =*/21).float(message.xM);
                if (message.yM != null && $Object.hasOwnProperty.call(message, "yM") && !$Object.is(message.yM, 0))
                    writer.uint32(/* id 3, wireType 5 =*/29).float(message.yM);
                if (message.headingRad != null && $Object.hasOwnProperty.call(message, "headingRad") && !$Object.is(message.headingRad, 0))
                    writer.uint32(/* id 4, wireType 5 =*/37).float(message.headingRad);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes an Odometry message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Odometry
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Odometry & leeway.v1.Odometry.$Shape} Odometry
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Odometry.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Odometry();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 1)
                                break;
                            if (!$Object.is(value = reader.double(), 0))
                                message.timeS = value;
                            else
                                delete message.timeS;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.xM = value;
                            else
                                delete message.xM;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.yM = value;
                            else
                                delete message.yM;
                            continue;
                        }
                    case 4: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.headingRad = value;
                            else
                                delete message.headingRad;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Odometry;
        })();

        v1.Drive = (function() {

            /**
             * Properties of a Drive.
             * @typedef {Object} leeway.v1.Drive.$Properties
             * @property {number|null} [vxMps] Drive vxMps
             * @property {number|null} [turnRadps] Drive turnRadps
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Drive.
             * @memberof leeway.v1
             * @interface IDrive
             * @augments leeway.v1.Drive.$Properties
             * @deprecated Use leeway.v1.Drive.$Properties instead.
             */

            /**
             * Shape of a Drive.
             * @typedef {leeway.v1.Drive.$Properties} leeway.v1.Drive.$Shape
             */

            /**
             * Constructs a new Drive.
             * @memberof leeway.v1
             * @classdesc Represents a Drive.
             * @constructor
             * @param {leeway.v1.Drive.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Drive = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Drive vxMps.
             * @member {number} vxMps
             * @memberof leeway.v1.Drive
             * @instance
             */
            Drive.prototype.vxMps = 0;

            /**
             * Drive turnRadps.
             * @member {number} turnRadps
             * @memberof leeway.v1.Drive
             * @instance
             */
            Drive.prototype.turnRadps = 0;

            /**
             * Encodes the specified Drive message. Does not implicitly {@link leeway.v1.Drive.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Drive
             * @static
             * @param {leeway.v1.Drive.$Properties} message Drive message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Drive.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.vxMps != null && $Object.hasOwnProperty.call(message, "vxMps") && !$Object.is(message.vxMps, 0))
                    writer.uint32(/* id 1, wireType 5 =*/13).float(message.vxMps);
                if (message.turnRadps != null && $Object.hasOwnProperty.call(message, "turnRadps") && !$Object.is(message.turnRadps, 0))
                    writer.uint32(/* id 2, wireType 5 =*/21).float(message.turnRadps);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Drive message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Drive
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Drive & leeway.v1.Drive.$Shape} Drive
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Drive.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Drive();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.vxMps = value;
                            else
                                delete message.vxMps;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.turnRadps = value;
                            else
                                delete message.turnRadps;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Drive;
        })();

        v1.Movers = (function() {

            /**
             * Properties of a Movers.
             * @typedef {Object} leeway.v1.Movers.$Properties
             * @property {number|null} [sweep] Movers sweep
             * @property {Array.<leeway.v1.Mover.$Properties>|null} [movers] Movers movers
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Movers.
             * @memberof leeway.v1
             * @interface IMovers
             * @augments leeway.v1.Movers.$Properties
             * @deprecated Use leeway.v1.Movers.$Properties instead.
             */

            /**
             * Shape of a Movers.
             * @typedef {leeway.v1.Movers.$Properties} leeway.v1.Movers.$Shape
             */

            /**
             * Constructs a new Movers.
             * @memberof leeway.v1
             * @classdesc Represents a Movers.
             * @constructor
             * @param {leeway.v1.Movers.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Movers = function (properties) {
                this.movers = [];
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Movers sweep.
             * @member {number} sweep
             * @memberof leeway.v1.Movers
             * @instance
             */
            Movers.prototype.sweep = 0;

            /**
             * Movers movers.
             * @member {Array.<leeway.v1.Mover.$Properties>} movers
             * @memberof leeway.v1.Movers
             * @instance
             */
            Movers.prototype.movers = $util.emptyArray;

            /**
             * Encodes the specified Movers message. Does not implicitly {@link leeway.v1.Movers.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Movers
             * @static
             * @param {leeway.v1.Movers.$Properties} message Movers message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Movers.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.sweep != null && $Object.hasOwnProperty.call(message, "sweep") && message.sweep !== 0)
                    writer.uint32(/* id 1, wireType 0 =*/8).uint32(message.sweep);
                if (message.movers != null && message.movers.length)
                    for (let i = 0; i < message.movers.length; ++i)
                        $root.leeway.v1.Mover.encode(message.movers[i], writer.uint32(/* id 2, wireType 2 =*/18).fork(), _depth + 1).ldelim();
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Movers message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Movers
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Movers & leeway.v1.Movers.$Shape} Movers
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Movers.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Movers();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.uint32())
                                message.sweep = value;
                            else
                                delete message.sweep;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 2)
                                break;
                            if (!(message.movers && message.movers.length))
                                message.movers = [];
                            message.movers.push($root.leeway.v1.Mover.decode(reader, reader.size(), $undefined, _depth + 1));
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Movers;
        })();

        v1.Mover = (function() {

            /**
             * Properties of a Mover.
             * @typedef {Object} leeway.v1.Mover.$Properties
             * @property {number|null} [id] Mover id
             * @property {number|null} [xM] Mover xM
             * @property {number|null} [yM] Mover yM
             * @property {number|null} [vxMps] Mover vxMps
             * @property {number|null} [vyMps] Mover vyMps
             * @property {number|null} [widthM] Mover widthM
             * @property {number|null} [ageS] Mover ageS
             * @property {number|null} [confidence] Mover confidence
             * @property {number|null} [closestM] Mover closestM
             * @property {number|null} [closestInS] Mover closestInS
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Mover.
             * @memberof leeway.v1
             * @interface IMover
             * @augments leeway.v1.Mover.$Properties
             * @deprecated Use leeway.v1.Mover.$Properties instead.
             */

            /**
             * Shape of a Mover.
             * @typedef {leeway.v1.Mover.$Properties} leeway.v1.Mover.$Shape
             */

            /**
             * Constructs a new Mover.
             * @memberof leeway.v1
             * @classdesc Represents a Mover.
             * @constructor
             * @param {leeway.v1.Mover.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Mover = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Mover id.
             * @member {number} id
             * @memberof leeway.v1.Mover
             * @instance
             */
            Mover.prototype.id = 0;

            /**
             * Mover xM.
             * @member {number} xM
             * @memberof leeway.v1.Mover
             * @instance
             */
            Mover.prototype.xM = 0;

            /**
             * Mover yM.
             * @member {number} yM
             * @memberof leeway.v1.Mover
             * @instance
             */
            Mover.prototype.yM = 0;

            /**
             * Mover vxMps.
             * @member {number} vxMps
             * @memberof leeway.v1.Mover
             * @instance
             */
            Mover.prototype.vxMps = 0;

            /**
             * Mover vyMps.
             * @member {number} vyMps
             * @memberof leeway.v1.Mover
             * @instance
             */
            Mover.prototype.vyMps = 0;

            /**
             * Mover widthM.
             * @member {number} widthM
             * @memberof leeway.v1.Mover
             * @instance
             */
            Mover.prototype.widthM = 0;

            /**
             * Mover ageS.
             * @member {number} ageS
             * @memberof leeway.v1.Mover
             * @instance
             */
            Mover.prototype.ageS = 0;

            /**
             * Mover confidence.
             * @member {number} confidence
             * @memberof leeway.v1.Mover
             * @instance
             */
            Mover.prototype.confidence = 0;

            /**
             * Mover closestM.
             * @member {number} closestM
             * @memberof leeway.v1.Mover
             * @instance
             */
            Mover.prototype.closestM = 0;

            /**
             * Mover closestInS.
             * @member {number} closestInS
             * @memberof leeway.v1.Mover
             * @instance
             */
            Mover.prototype.closestInS = 0;

            /**
             * Encodes the specified Mover message. Does not implicitly {@link leeway.v1.Mover.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Mover
             * @static
             * @param {leeway.v1.Mover.$Properties} message Mover message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Mover.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.id != null && $Object.hasOwnProperty.call(message, "id") && message.id !== 0)
                    writer.uint32(/* id 1, wireType 0 =*/8).uint32(message.id);
                if (message.xM != null && $Object.hasOwnProperty.call(message, "xM") && !$Object.is(message.xM, 0))
                    writer.uint32(/* id 2, wireType 5 =*/21).float(message.xM);
                if (message.yM != null && $Object.hasOwnProperty.call(message, "yM") && !$Object.is(message.yM, 0))
                    writer.uint32(/* id 3, wireType 5 =*/29).float(message.yM);
                if (message.vxMps != null && $Object.hasOwnProperty.call(message, "vxMps") && !$Object.is(message.vxMps, 0))
                    writer.uint32(/* id 4, wireType 5 =*/37).float(message.vxMps);
                if (message.vyMps != null && $Object.hasOwnProperty.call(message, "vyMps") && !$Object.is(message.vyMps, 0))
                    writer.uint32(/* id 5, wireType 5 =*/45).float(message.vyMps);
                if (message.widthM != null && $Object.hasOwnProperty.call(message, "widthM") && !$Object.is(message.widthM, 0))
                    writer.uint32(/* id 6, wireType 5 =*/53).float(message.widthM);
                if (message.ageS != null && $Object.hasOwnProperty.call(message, "ageS") && !$Object.is(message.ageS, 0))
                    writer.uint32(/* id 7, wireType 5 =*/61).float(message.ageS);
                if (message.confidence != null && $Object.hasOwnProperty.call(message, "confidence") && !$Object.is(message.confidence, 0))
                    writer.uint32(/* id 8, wireType 5 =*/69).float(message.confidence);
                if (message.closestM != null && $Object.hasOwnProperty.call(message, "closestM") && !$Object.is(message.closestM, 0))
                    writer.uint32(/* id 9, wireType 5 =*/77).float(message.closestM);
                if (message.closestInS != null && $Object.hasOwnProperty.call(message, "closestInS") && !$Object.is(message.closestInS, 0))
                    writer.uint32(/* id 10, wireType 5 =*/85).float(message.closestInS);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Mover message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Mover
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Mover & leeway.v1.Mover.$Shape} Mover
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Mover.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Mover();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.uint32())
                                message.id = value;
                            else
                                delete message.id;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.xM = value;
                            else
                                delete message.xM;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.yM = value;
                            else
                                delete message.yM;
                            continue;
                        }
                    case 4: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.vxMps = value;
                            else
                                delete message.vxMps;
                            continue;
                        }
                    case 5: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.vyMps = value;
                            else
                                delete message.vyMps;
                            continue;
                        }
                    case 6: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.widthM = value;
                            else
                                delete message.widthM;
                            continue;
                        }
                    case 7: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.ageS = value;
                            else
                                delete message.ageS;
                            continue;
                        }
                    case 8: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.confidence = value;
                            else
                                delete message.confidence;
                            continue;
                        }
                    case 9: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.closestM = value;
                            else
                                delete message.closestM;
                            continue;
                        }
                    case 10: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.closestInS = value;
                            else
                                delete message.closestInS;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Mover;
        })();

        v1.RunEvent = (function() {

            /**
             * Properties of a RunEvent.
             * @typedef {Object} leeway.v1.RunEvent.$Properties
             * @property {string|null} [run] RunEvent run
             * @property {string|null} [what] RunEvent what
             * @property {number|null} [atS] RunEvent atS
             * @property {string|null} [text] RunEvent text
             * @property {leeway.v1.RunState|null} [state] RunEvent state
             * @property {number|null} [fromS] RunEvent fromS
             * @property {number|null} [toS] RunEvent toS
             * @property {number|null} [pace] RunEvent pace
             * @property {number|null} [bytes] RunEvent bytes
             * @property {boolean|null} [pinned] RunEvent pinned
             * @property {string|null} [title] RunEvent title
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a RunEvent.
             * @memberof leeway.v1
             * @interface IRunEvent
             * @augments leeway.v1.RunEvent.$Properties
             * @deprecated Use leeway.v1.RunEvent.$Properties instead.
             */

            /**
             * Shape of a RunEvent.
             * @typedef {leeway.v1.RunEvent.$Properties} leeway.v1.RunEvent.$Shape
             */

            /**
             * Constructs a new RunEvent.
             * @memberof leeway.v1
             * @classdesc Represents a RunEvent.
             * @constructor
             * @param {leeway.v1.RunEvent.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const RunEvent = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * RunEvent run.
             * @member {string} run
             * @memberof leeway.v1.RunEvent
             * @instance
             */
            RunEvent.prototype.run = "";

            /**
             * RunEvent what.
             * @member {string} what
             * @memberof leeway.v1.RunEvent
             * @instance
             */
            RunEvent.prototype.what = "";

            /**
             * RunEvent atS.
             * @member {number} atS
             * @memberof leeway.v1.RunEvent
             * @instance
             */
            RunEvent.prototype.atS = 0;

            /**
             * RunEvent text.
             * @member {string} text
             * @memberof leeway.v1.RunEvent
             * @instance
             */
            RunEvent.prototype.text = "";

            /**
             * RunEvent state.
             * @member {leeway.v1.RunState} state
             * @memberof leeway.v1.RunEvent
             * @instance
             */
            RunEvent.prototype.state = 0;

            /**
             * RunEvent fromS.
             * @member {number} fromS
             * @memberof leeway.v1.RunEvent
             * @instance
             */
            RunEvent.prototype.fromS = 0;

            /**
             * RunEvent toS.
             * @member {number} toS
             * @memberof leeway.v1.RunEvent
             * @instance
             */
            RunEvent.prototype.toS = 0;

            /**
             * RunEvent pace.
             * @member {number} pace
             * @memberof leeway.v1.RunEvent
             * @instance
             */
            RunEvent.prototype.pace = 0;

            /**
             * RunEvent bytes.
             * @member {number} bytes
             * @memberof leeway.v1.RunEvent
             * @instance
             */
            RunEvent.prototype.bytes = $util.Long ? $util.Long.fromBits(0,0,true) : 0;

            /**
             * RunEvent pinned.
             * @member {boolean} pinned
             * @memberof leeway.v1.RunEvent
             * @instance
             */
            RunEvent.prototype.pinned = false;

            /**
             * RunEvent title.
             * @member {string} title
             * @memberof leeway.v1.RunEvent
             * @instance
             */
            RunEvent.prototype.title = "";

            /**
             * Encodes the specified RunEvent message. Does not implicitly {@link leeway.v1.RunEvent.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.RunEvent
             * @static
             * @param {leeway.v1.RunEvent.$Properties} message RunEvent message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            RunEvent.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.run != null && $Object.hasOwnProperty.call(message, "run") && message.run !== "")
                    writer.uint32(/* id 1, wireType 2 =*/10).string(message.run);
                if (message.what != null && $Object.hasOwnProperty.call(message, "what") && message.what !== "")
                    writer.uint32(/* id 2, wireType 2 =*/18).string(message.what);
                if (message.atS != null && $Object.hasOwnProperty.call(message, "atS") && !$Object.is(message.atS, 0))
                    writer.uint32(/* id 3, wireType 1 =*/25).double(message.atS);
                if (message.text != null && $Object.hasOwnProperty.call(message, "text") && message.text !== "")
                    writer.uint32(/* id 4, wireType 2 =*/34).string(message.text);
                if (message.state != null && $Object.hasOwnProperty.call(message, "state") && message.state !== 0)
                    writer.uint32(/* id 5, wireType 0 =*/40).int32(message.state);
                if (message.fromS != null && $Object.hasOwnProperty.call(message, "fromS") && !$Object.is(message.fromS, 0))
                    writer.uint32(/* id 6, wireType 1 =*/49).double(message.fromS);
                if (message.toS != null && $Object.hasOwnProperty.call(message, "toS") && !$Object.is(message.toS, 0))
                    writer.uint32(/* id 7, wireType 1 =*/57).double(message.toS);
                if (message.pace != null && $Object.hasOwnProperty.call(message, "pace") && !$Object.is(message.pace, 0))
                    writer.uint32(/* id 8, wireType 5 =*/69).float(message.pace);
                if (message.bytes != null && $Object.hasOwnProperty.call(message, "bytes") && (typeof message.bytes === "object" ? message.bytes.low || message.bytes.high : message.bytes !== 0))
                    writer.uint32(/* id 9, wireType 0 =*/72).uint64(message.bytes);
                if (message.pinned != null && $Object.hasOwnProperty.call(message, "pinned") && message.pinned !== false)
                    writer.uint32(/* id 10, wireType 0 =*/80).bool(message.pinned);
                if (message.title != null && $Object.hasOwnProperty.call(message, "title") && message.title !== "")
                    writer.uint32(/* id 11, wireType 2 =*/90).string(message.title);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a RunEvent message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.RunEvent
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.RunEvent & leeway.v1.RunEvent.$Shape} RunEvent
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            RunEvent.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.RunEvent();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.run = value;
                            else
                                delete message.run;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.what = value;
                            else
                                delete message.what;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 1)
                                break;
                            if (!$Object.is(value = reader.double(), 0))
                                message.atS = value;
                            else
                                delete message.atS;
                            continue;
                        }
                    case 4: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.text = value;
                            else
                                delete message.text;
                            continue;
                        }
                    case 5: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.int32())
                                message.state = value;
                            else
                                delete message.state;
                            continue;
                        }
                    case 6: {
                            if (wireType !== 1)
                                break;
                            if (!$Object.is(value = reader.double(), 0))
                                message.fromS = value;
                            else
                                delete message.fromS;
                            continue;
                        }
                    case 7: {
                            if (wireType !== 1)
                                break;
                            if (!$Object.is(value = reader.double(), 0))
                                message.toS = value;
                            else
                                delete message.toS;
                            continue;
                        }
                    case 8: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.pace = value;
                            else
                                delete message.pace;
                            continue;
                        }
                    case 9: {
                            if (wireType !== 0)
                                break;
                            if (typeof (value = reader.uint64()) === "object" ? value.low || value.high : value !== 0)
                                message.bytes = value;
                            else
                                delete message.bytes;
                            continue;
                        }
                    case 10: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.bool())
                                message.pinned = value;
                            else
                                delete message.pinned;
                            continue;
                        }
                    case 11: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.title = value;
                            else
                                delete message.title;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return RunEvent;
        })();

        /**
         * RunState enum.
         * @name leeway.v1.RunState
         * @enum {number}
         * @property {number} RUN_STATE_UNSPECIFIED=0 RUN_STATE_UNSPECIFIED value
         * @property {number} RUN_STATE_IDLE=1 RUN_STATE_IDLE value
         * @property {number} RUN_STATE_RECORDING=2 RUN_STATE_RECORDING value
         * @property {number} RUN_STATE_PLAYING=3 RUN_STATE_PLAYING value
         * @property {number} RUN_STATE_PAUSED=4 RUN_STATE_PAUSED value
         * @property {number} RUN_STATE_ENDED=5 RUN_STATE_ENDED value
         */
        v1.RunState = (function() {
            const valuesById = $Object.create(null), values = $Object.create(valuesById);
            values[valuesById[0] = "RUN_STATE_UNSPECIFIED"] = 0;
            values[valuesById[1] = "RUN_STATE_IDLE"] = 1;
            values[valuesById[2] = "RUN_STATE_RECORDING"] = 2;
            values[valuesById[3] = "RUN_STATE_PLAYING"] = 3;
            values[valuesById[4] = "RUN_STATE_PAUSED"] = 4;
            values[valuesById[5] = "RUN_STATE_ENDED"] = 5;
            return values;
        })();

        v1.Mark = (function() {

            /**
             * Properties of a Mark.
             * @typedef {Object} leeway.v1.Mark.$Properties
             * @property {string|null} [text] Mark text
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Mark.
             * @memberof leeway.v1
             * @interface IMark
             * @augments leeway.v1.Mark.$Properties
             * @deprecated Use leeway.v1.Mark.$Properties instead.
             */

            /**
             * Shape of a Mark.
             * @typedef {leeway.v1.Mark.$Properties} leeway.v1.Mark.$Shape
             */

            /**
             * Constructs a new Mark.
             * @memberof leeway.v1
             * @classdesc Represents a Mark.
             * @constructor
             * @param {leeway.v1.Mark.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Mark = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Mark text.
             * @member {string} text
             * @memberof leeway.v1.Mark
             * @instance
             */
            Mark.prototype.text = "";

            /**
             * Encodes the specified Mark message. Does not implicitly {@link leeway.v1.Mark.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Mark
             * @static
             * @param {leeway.v1.Mark.$Properties} message Mark message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Mark.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.text != null && $Object.hasOwnProperty.call(message, "text") && message.text !== "")
                    writer.uint32(/* id 1, wireType 2 =*/10).string(message.text);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Mark message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Mark
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Mark & leeway.v1.Mark.$Shape} Mark
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Mark.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Mark();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.text = value;
                            else
                                delete message.text;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Mark;
        })();

        v1.Record = (function() {

            /**
             * Properties of a Record.
             * @typedef {Object} leeway.v1.Record.$Properties
             * @property {boolean|null} [on] Record on
             * @property {string|null} [title] Record title
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Record.
             * @memberof leeway.v1
             * @interface IRecord
             * @augments leeway.v1.Record.$Properties
             * @deprecated Use leeway.v1.Record.$Properties instead.
             */

            /**
             * Shape of a Record.
             * @typedef {leeway.v1.Record.$Properties} leeway.v1.Record.$Shape
             */

            /**
             * Constructs a new Record.
             * @memberof leeway.v1
             * @classdesc Represents a Record.
             * @constructor
             * @param {leeway.v1.Record.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Record = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Record on.
             * @member {boolean} on
             * @memberof leeway.v1.Record
             * @instance
             */
            Record.prototype.on = false;

            /**
             * Record title.
             * @member {string} title
             * @memberof leeway.v1.Record
             * @instance
             */
            Record.prototype.title = "";

            /**
             * Encodes the specified Record message. Does not implicitly {@link leeway.v1.Record.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Record
             * @static
             * @param {leeway.v1.Record.$Properties} message Record message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Record.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.on != null && $Object.hasOwnProperty.call(message, "on") && message.on !== false)
                    writer.uint32(/* id 1, wireType 0 =*/8).bool(message.on);
                if (message.title != null && $Object.hasOwnProperty.call(message, "title") && message.title !== "")
                    writer.uint32(/* id 2, wireType 2 =*/18).string(message.title);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Record message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Record
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Record & leeway.v1.Record.$Shape} Record
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Record.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Record();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.bool())
                                message.on = value;
                            else
                                delete message.on;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.title = value;
                            else
                                delete message.title;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Record;
        })();

        v1.Keep = (function() {

            /**
             * Properties of a Keep.
             * @typedef {Object} leeway.v1.Keep.$Properties
             * @property {string|null} [run] Keep run
             * @property {boolean|null} [pinned] Keep pinned
             * @property {string|null} [title] Keep title
             * @property {boolean|null} [remove] Keep remove
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Keep.
             * @memberof leeway.v1
             * @interface IKeep
             * @augments leeway.v1.Keep.$Properties
             * @deprecated Use leeway.v1.Keep.$Properties instead.
             */

            /**
             * Shape of a Keep.
             * @typedef {leeway.v1.Keep.$Properties} leeway.v1.Keep.$Shape
             */

            /**
             * Constructs a new Keep.
             * @memberof leeway.v1
             * @classdesc Represents a Keep.
             * @constructor
             * @param {leeway.v1.Keep.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Keep = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Keep run.
             * @member {string} run
             * @memberof leeway.v1.Keep
             * @instance
             */
            Keep.prototype.run = "";

            /**
             * Keep pinned.
             * @member {boolean|null|undefined} pinned
             * @memberof leeway.v1.Keep
             * @instance
             */
            Keep.prototype.pinned = null;

            /**
             * Keep title.
             * @member {string|null|undefined} title
             * @memberof leeway.v1.Keep
             * @instance
             */
            Keep.prototype.title = null;

            /**
             * Keep remove.
             * @member {boolean|null|undefined} remove
             * @memberof leeway.v1.Keep
             * @instance
             */
            Keep.prototype.remove = null;

            // OneOf field names bound to virtual getters and setters
            let $oneOfFields;

            // Virtual OneOf for proto3 optional field
            $Object.defineProperty(Keep.prototype, "_pinned", {
                get: $util.oneOfGetter($oneOfFields = ["pinned"]),
                set: $util.oneOfSetter($oneOfFields)
            });

            // Virtual OneOf for proto3 optional field
            $Object.defineProperty(Keep.prototype, "_title", {
                get: $util.oneOfGetter($oneOfFields = ["title"]),
                set: $util.oneOfSetter($oneOfFields)
            });

            // Virtual OneOf for proto3 optional field
            $Object.defineProperty(Keep.prototype, "_remove", {
                get: $util.oneOfGetter($oneOfFields = ["remove"]),
                set: $util.oneOfSetter($oneOfFields)
            });

            /**
             * Encodes the specified Keep message. Does not implicitly {@link leeway.v1.Keep.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Keep
             * @static
             * @param {leeway.v1.Keep.$Properties} message Keep message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Keep.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.run != null && $Object.hasOwnProperty.call(message, "run") && message.run !== "")
                    writer.uint32(/* id 1, wireType 2 =*/10).string(message.run);
                if (message.pinned != null && $Object.hasOwnProperty.call(message, "pinned"))
                    writer.uint32(/* id 2, wireType 0 =*/16).bool(message.pinned);
                if (message.title != null && $Object.hasOwnProperty.call(message, "title"))
                    writer.uint32(/* id 3, wireType 2 =*/26).string(message.title);
                if (message.remove != null && $Object.hasOwnProperty.call(message, "remove"))
                    writer.uint32(/* id 4, wireType 0 =*/32).bool(message.remove);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Keep message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Keep
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Keep & leeway.v1.Keep.$Shape} Keep
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Keep.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Keep();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 2)
                                break;
                            if ((value = reader.stringVerify()).length)
                                message.run = value;
                            else
                                delete message.run;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 0)
                                break;
                            message.pinned = reader.bool();
                            message._pinned = "pinned";
                            continue;
                        }
                    case 3: {
                            if (wireType !== 2)
                                break;
                            message.title = reader.stringVerify();
                            message._title = "title";
                            continue;
                        }
                    case 4: {
                            if (wireType !== 0)
                                break;
                            message.remove = reader.bool();
                            message._remove = "remove";
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Keep;
        })();

        v1.Replay = (function() {

            /**
             * Properties of a Replay.
             * @typedef {Object} leeway.v1.Replay.$Properties
             * @property {number|null} [atS] Replay atS
             * @property {number|null} [step] Replay step
             * @property {number|null} [pace] Replay pace
             * @property {boolean|null} [paused] Replay paused
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Replay.
             * @memberof leeway.v1
             * @interface IReplay
             * @augments leeway.v1.Replay.$Properties
             * @deprecated Use leeway.v1.Replay.$Properties instead.
             */

            /**
             * Shape of a Replay.
             * @typedef {leeway.v1.Replay.$Properties} leeway.v1.Replay.$Shape
             */

            /**
             * Constructs a new Replay.
             * @memberof leeway.v1
             * @classdesc Represents a Replay.
             * @constructor
             * @param {leeway.v1.Replay.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Replay = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Replay atS.
             * @member {number|null|undefined} atS
             * @memberof leeway.v1.Replay
             * @instance
             */
            Replay.prototype.atS = null;

            /**
             * Replay step.
             * @member {number|null|undefined} step
             * @memberof leeway.v1.Replay
             * @instance
             */
            Replay.prototype.step = null;

            /**
             * Replay pace.
             * @member {number|null|undefined} pace
             * @memberof leeway.v1.Replay
             * @instance
             */
            Replay.prototype.pace = null;

            /**
             * Replay paused.
             * @member {boolean|null|undefined} paused
             * @memberof leeway.v1.Replay
             * @instance
             */
            Replay.prototype.paused = null;

            // OneOf field names bound to virtual getters and setters
            let $oneOfFields;

            // Virtual OneOf for proto3 optional field
            $Object.defineProperty(Replay.prototype, "_atS", {
                get: $util.oneOfGetter($oneOfFields = ["atS"]),
                set: $util.oneOfSetter($oneOfFields)
            });

            // Virtual OneOf for proto3 optional field
            $Object.defineProperty(Replay.prototype, "_step", {
                get: $util.oneOfGetter($oneOfFields = ["step"]),
                set: $util.oneOfSetter($oneOfFields)
            });

            // Virtual OneOf for proto3 optional field
            $Object.defineProperty(Replay.prototype, "_pace", {
                get: $util.oneOfGetter($oneOfFields = ["pace"]),
                set: $util.oneOfSetter($oneOfFields)
            });

            // Virtual OneOf for proto3 optional field
            $Object.defineProperty(Replay.prototype, "_paused", {
                get: $util.oneOfGetter($oneOfFields = ["paused"]),
                set: $util.oneOfSetter($oneOfFields)
            });

            /**
             * Encodes the specified Replay message. Does not implicitly {@link leeway.v1.Replay.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Replay
             * @static
             * @param {leeway.v1.Replay.$Properties} message Replay message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Replay.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.atS != null && $Object.hasOwnProperty.call(message, "atS"))
                    writer.uint32(/* id 1, wireType 1 =*/9).double(message.atS);
                if (message.step != null && $Object.hasOwnProperty.call(message, "step"))
                    writer.uint32(/* id 2, wireType 0 =*/16).sint32(message.step);
                if (message.pace != null && $Object.hasOwnProperty.call(message, "pace"))
                    writer.uint32(/* id 3, wireType 5 =*/29).float(message.pace);
                if (message.paused != null && $Object.hasOwnProperty.call(message, "paused"))
                    writer.uint32(/* id 4, wireType 0 =*/32).bool(message.paused);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Replay message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Replay
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Replay & leeway.v1.Replay.$Shape} Replay
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Replay.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Replay();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 1)
                                break;
                            message.atS = reader.double();
                            message._atS = "atS";
                            continue;
                        }
                    case 2: {
                            if (wireType !== 0)
                                break;
                            message.step = reader.sint32();
                            message._step = "step";
                            continue;
                        }
                    case 3: {
                            if (wireType !== 5)
                                break;
                            message.pace = reader.float();
                            message._pace = "pace";
                            continue;
                        }
                    case 4: {
                            if (wireType !== 0)
                                break;
                            message.paused = reader.bool();
                            message._paused = "paused";
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Replay;
        })();

        v1.Shapes = (function() {

            /**
             * Properties of a Shapes.
             * @typedef {Object} leeway.v1.Shapes.$Properties
             * @property {number|null} [sweep] Shapes sweep
             * @property {Array.<leeway.v1.Segment.$Properties>|null} [segments] Shapes segments
             * @property {Array.<leeway.v1.Wall.$Properties>|null} [walls] Shapes walls
             * @property {Array.<leeway.v1.Corner.$Properties>|null} [corners] Shapes corners
             * @property {Array.<leeway.v1.Opening.$Properties>|null} [openings] Shapes openings
             * @property {Array.<leeway.v1.Post.$Properties>|null} [posts] Shapes posts
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Shapes.
             * @memberof leeway.v1
             * @interface IShapes
             * @augments leeway.v1.Shapes.$Properties
             * @deprecated Use leeway.v1.Shapes.$Properties instead.
             */

            /**
             * Shape of a Shapes.
             * @typedef {leeway.v1.Shapes.$Properties} leeway.v1.Shapes.$Shape
             */

            /**
             * Constructs a new Shapes.
             * @memberof leeway.v1
             * @classdesc Represents a Shapes.
             * @constructor
             * @param {leeway.v1.Shapes.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Shapes = function (properties) {
                this.segments = [];
                this.walls = [];
                this.corners = [];
                this.openings = [];
                this.posts = [];
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Shapes sweep.
             * @member {number} sweep
             * @memberof leeway.v1.Shapes
             * @instance
             */
            Shapes.prototype.sweep = 0;

            /**
             * Shapes segments.
             * @member {Array.<leeway.v1.Segment.$Properties>} segments
             * @memberof leeway.v1.Shapes
             * @instance
             */
            Shapes.prototype.segments = $util.emptyArray;

            /**
             * Shapes walls.
             * @member {Array.<leeway.v1.Wall.$Properties>} walls
             * @memberof leeway.v1.Shapes
             * @instance
             */
            Shapes.prototype.walls = $util.emptyArray;

            /**
             * Shapes corners.
             * @member {Array.<leeway.v1.Corner.$Properties>} corners
             * @memberof leeway.v1.Shapes
             * @instance
             */
            Shapes.prototype.corners = $util.emptyArray;

            /**
             * Shapes openings.
             * @member {Array.<leeway.v1.Opening.$Properties>} openings
             * @memberof leeway.v1.Shapes
             * @instance
             */
            Shapes.prototype.openings = $util.emptyArray;

            /**
             * Shapes posts.
             * @member {Array.<leeway.v1.Post.$Properties>} posts
             * @memberof leeway.v1.Shapes
             * @instance
             */
            Shapes.prototype.posts = $util.emptyArray;

            /**
             * Encodes the specified Shapes message. Does not implicitly {@link leeway.v1.Shapes.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Shapes
             * @static
             * @param {leeway.v1.Shapes.$Properties} message Shapes message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Shapes.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.sweep != null && $Object.hasOwnProperty.call(message, "sweep") && message.sweep !== 0)
                    writer.uint32(/* id 1, wireType 0 =*/8).uint32(message.sweep);
                if (message.segments != null && message.segments.length)
                    for (let i = 0; i < message.segments.length; ++i)
                        $root.leeway.v1.Segment.encode(message.segments[i], writer.uint32(/* id 2, wireType 2 =*/18).fork(), _depth + 1).ldelim();
                if (message.walls != null && message.walls.length)
                    for (let i = 0; i < message.walls.length; ++i)
                        $root.leeway.v1.Wall.encode(message.walls[i], writer.uint32(/* id 3, wireType 2 =*/26).fork(), _depth + 1).ldelim();
                if (message.corners != null && message.corners.length)
                    for (let i = 0; i < message.corners.length; ++i)
                        $root.leeway.v1.Corner.encode(message.corners[i], writer.uint32(/* id 4, wireType 2 =*/34).fork(), _depth + 1).ldelim();
                if (message.openings != null && message.openings.length)
                    for (let i = 0; i < message.openings.length; ++i)
                        $root.leeway.v1.Opening.encode(message.openings[i], writer.uint32(/* id 5, wireType 2 =*/42).fork(), _depth + 1).ldelim();
                if (message.posts != null && message.posts.length)
                    for (let i = 0; i < message.posts.length; ++i)
                        $root.leeway.v1.Post.encode(message.posts[i], writer.uint32(/* id 6, wireType 2 =*/50).fork(), _depth + 1).ldelim();
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Shapes message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Shapes
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Shapes & leeway.v1.Shapes.$Shape} Shapes
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Shapes.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Shapes();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.uint32())
                                message.sweep = value;
                            else
                                delete message.sweep;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 2)
                                break;
                            if (!(message.segments && message.segments.length))
                                message.segments = [];
                            message.segments.push($root.leeway.v1.Segment.decode(reader, reader.size(), $undefined, _depth + 1));
                            continue;
                        }
                    case 3: {
                            if (wireType !== 2)
                                break;
                            if (!(message.walls && message.walls.length))
                                message.walls = [];
                            message.walls.push($root.leeway.v1.Wall.decode(reader, reader.size(), $undefined, _depth + 1));
                            continue;
                        }
                    case 4: {
                            if (wireType !== 2)
                                break;
                            if (!(message.corners && message.corners.length))
                                message.corners = [];
                            message.corners.push($root.leeway.v1.Corner.decode(reader, reader.size(), $undefined, _depth + 1));
                            continue;
                        }
                    case 5: {
                            if (wireType !== 2)
                                break;
                            if (!(message.openings && message.openings.length))
                                message.openings = [];
                            message.openings.push($root.leeway.v1.Opening.decode(reader, reader.size(), $undefined, _depth + 1));
                            continue;
                        }
                    case 6: {
                            if (wireType !== 2)
                                break;
                            if (!(message.posts && message.posts.length))
                                message.posts = [];
                            message.posts.push($root.leeway.v1.Post.decode(reader, reader.size(), $undefined, _depth + 1));
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Shapes;
        })();

        v1.Segment = (function() {

            /**
             * Properties of a Segment.
             * @typedef {Object} leeway.v1.Segment.$Properties
             * @property {number|null} [first] Segment first
             * @property {number|null} [count] Segment count
             * @property {number|null} [xM] Segment xM
             * @property {number|null} [yM] Segment yM
             * @property {number|null} [widthM] Segment widthM
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Segment.
             * @memberof leeway.v1
             * @interface ISegment
             * @augments leeway.v1.Segment.$Properties
             * @deprecated Use leeway.v1.Segment.$Properties instead.
             */

            /**
             * Shape of a Segment.
             * @typedef {leeway.v1.Segment.$Properties} leeway.v1.Segment.$Shape
             */

            /**
             * Constructs a new Segment.
             * @memberof leeway.v1
             * @classdesc Represents a Segment.
             * @constructor
             * @param {leeway.v1.Segment.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Segment = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Segment first.
             * @member {number} first
             * @memberof leeway.v1.Segment
             * @instance
             */
            Segment.prototype.first = 0;

            /**
             * Segment count.
             * @member {number} count
             * @memberof leeway.v1.Segment
             * @instance
             */
            Segment.prototype.count = 0;

            /**
             * Segment xM.
             * @member {number} xM
             * @memberof leeway.v1.Segment
             * @instance
             */
            Segment.prototype.xM = 0;

            /**
             * Segment yM.
             * @member {number} yM
             * @memberof leeway.v1.Segment
             * @instance
             */
            Segment.prototype.yM = 0;

            /**
             * Segment widthM.
             * @member {number} widthM
             * @memberof leeway.v1.Segment
             * @instance
             */
            Segment.prototype.widthM = 0;

            /**
             * Encodes the specified Segment message. Does not implicitly {@link leeway.v1.Segment.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Segment
             * @static
             * @param {leeway.v1.Segment.$Properties} message Segment message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Segment.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.first != null && $Object.hasOwnProperty.call(message, "first") && message.first !== 0)
                    writer.uint32(/* id 1, wireType 0 =*/8).uint32(message.first);
                if (message.count != null && $Object.hasOwnProperty.call(message, "count") && message.count !== 0)
                    writer.uint32(/* id 2, wireType 0 =*/16).uint32(message.count);
                if (message.xM != null && $Object.hasOwnProperty.call(message, "xM") && !$Object.is(message.xM, 0))
                    writer.uint32(/* id 3, wireType 5 =*/29).float(message.xM);
                if (message.yM != null && $Object.hasOwnProperty.call(message, "yM") && !$Object.is(message.yM, 0))
                    writer.uint32(/* id 4, wireType 5 =*/37).float(message.yM);
                if (message.widthM != null && $Object.hasOwnProperty.call(message, "widthM") && !$Object.is(message.widthM, 0))
                    writer.uint32(/* id 5, wireType 5 =*/45).float(message.widthM);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Segment message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Segment
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Segment & leeway.v1.Segment.$Shape} Segment
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Segment.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Segment();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.uint32())
                                message.first = value;
                            else
                                delete message.first;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.uint32())
                                message.count = value;
                            else
                                delete message.count;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.xM = value;
                            else
                                delete message.xM;
                            continue;
                        }
                    case 4: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.yM = value;
                            else
                                delete message.yM;
                            continue;
                        }
                    case 5: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.widthM = value;
                            else
                                delete message.widthM;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Segment;
        })();

        v1.Wall = (function() {

            /**
             * Properties of a Wall.
             * @typedef {Object} leeway.v1.Wall.$Properties
             * @property {number|null} [normalRad] Wall normalRad
             * @property {number|null} [distanceM] Wall distanceM
             * @property {number|null} [distanceVar] Wall distanceVar
             * @property {number|null} [crossCov] Wall crossCov
             * @property {number|null} [normalVar] Wall normalVar
             * @property {number|null} [x1M] Wall x1M
             * @property {number|null} [y1M] Wall y1M
             * @property {number|null} [x2M] Wall x2M
             * @property {number|null} [y2M] Wall y2M
             * @property {number|null} [roughnessM] Wall roughnessM
             * @property {number|null} [echoes] Wall echoes
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Wall.
             * @memberof leeway.v1
             * @interface IWall
             * @augments leeway.v1.Wall.$Properties
             * @deprecated Use leeway.v1.Wall.$Properties instead.
             */

            /**
             * Shape of a Wall.
             * @typedef {leeway.v1.Wall.$Properties} leeway.v1.Wall.$Shape
             */

            /**
             * Constructs a new Wall.
             * @memberof leeway.v1
             * @classdesc Represents a Wall.
             * @constructor
             * @param {leeway.v1.Wall.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Wall = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Wall normalRad.
             * @member {number} normalRad
             * @memberof leeway.v1.Wall
             * @instance
             */
            Wall.prototype.normalRad = 0;

            /**
             * Wall distanceM.
             * @member {number} distanceM
             * @memberof leeway.v1.Wall
             * @instance
             */
            Wall.prototype.distanceM = 0;

            /**
             * Wall distanceVar.
             * @member {number} distanceVar
             * @memberof leeway.v1.Wall
             * @instance
             */
            Wall.prototype.distanceVar = 0;

            /**
             * Wall crossCov.
             * @member {number} crossCov
             * @memberof leeway.v1.Wall
             * @instance
             */
            Wall.prototype.crossCov = 0;

            /**
             * Wall normalVar.
             * @member {number} normalVar
             * @memberof leeway.v1.Wall
             * @instance
             */
            Wall.prototype.normalVar = 0;

            /**
             * Wall x1M.
             * @member {number} x1M
             * @memberof leeway.v1.Wall
             * @instance
             */
            Wall.prototype.x1M = 0;

            /**
             * Wall y1M.
             * @member {number} y1M
             * @memberof leeway.v1.Wall
             * @instance
             */
            Wall.prototype.y1M = 0;

            /**
             * Wall x2M.
             * @member {number} x2M
             * @memberof leeway.v1.Wall
             * @instance
             */
            Wall.prototype.x2M = 0;

            /**
             * Wall y2M.
             * @member {number} y2M
             * @memberof leeway.v1.Wall
             * @instance
             */
            Wall.prototype.y2M = 0;

            /**
             * Wall roughnessM.
             * @member {number} roughnessM
             * @memberof leeway.v1.Wall
             * @instance
             */
            Wall.prototype.roughnessM = 0;

            /**
             * Wall echoes.
             * @member {number} echoes
             * @memberof leeway.v1.Wall
             * @instance
             */
            Wall.prototype.echoes = 0;

            /**
             * Encodes the specified Wall message. Does not implicitly {@link leeway.v1.Wall.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Wall
             * @static
             * @param {leeway.v1.Wall.$Properties} message Wall message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Wall.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.normalRad != null && $Object.hasOwnProperty.call(message, "normalRad") && !$Object.is(message.normalRad, 0))
                    writer.uint32(/* id 1, wireType 5 =*/13).float(message.normalRad);
                if (message.distanceM != null && $Object.hasOwnProperty.call(message, "distanceM") && !$Object.is(message.distanceM, 0))
                    writer.uint32(/* id 2, wireType 5 =*/21).float(message.distanceM);
                if (message.distanceVar != null && $Object.hasOwnProperty.call(message, "distanceVar") && !$Object.is(message.distanceVar, 0))
                    writer.uint32(/* id 3, wireType 5 =*/29).float(message.distanceVar);
                if (message.crossCov != null && $Object.hasOwnProperty.call(message, "crossCov") && !$Object.is(message.crossCov, 0))
                    writer.uint32(/* id 4, wireType 5 =*/37).float(message.crossCov);
                if (message.normalVar != null && $Object.hasOwnProperty.call(message, "normalVar") && !$Object.is(message.normalVar, 0))
                    writer.uint32(/* id 5, wireType 5 =*/45).float(message.normalVar);
                if (message.x1M != null && $Object.hasOwnProperty.call(message, "x1M") && !$Object.is(message.x1M, 0))
                    writer.uint32(/* id 6, wireType 5 =*/53).float(message.x1M);
                if (message.y1M != null && $Object.hasOwnProperty.call(message, "y1M") && !$Object.is(message.y1M, 0))
                    writer.uint32(/* id 7, wireType 5 =*/61).float(message.y1M);
                if (message.x2M != null && $Object.hasOwnProperty.call(message, "x2M") && !$Object.is(message.x2M, 0))
                    writer.uint32(/* id 8, wireType 5 =*/69).float(message.x2M);
                if (message.y2M != null && $Object.hasOwnProperty.call(message, "y2M") && !$Object.is(message.y2M, 0))
                    writer.uint32(/* id 9, wireType 5 =*/77).float(message.y2M);
                if (message.roughnessM != null && $Object.hasOwnProperty.call(message, "roughnessM") && !$Object.is(message.roughnessM, 0))
                    writer.uint32(/* id 10, wireType 5 =*/85).float(message.roughnessM);
                if (message.echoes != null && $Object.hasOwnProperty.call(message, "echoes") && message.echoes !== 0)
                    writer.uint32(/* id 11, wireType 0 =*/88).uint32(message.echoes);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Wall message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Wall
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Wall & leeway.v1.Wall.$Shape} Wall
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Wall.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Wall();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.normalRad = value;
                            else
                                delete message.normalRad;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.distanceM = value;
                            else
                                delete message.distanceM;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.distanceVar = value;
                            else
                                delete message.distanceVar;
                            continue;
                        }
                    case 4: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.crossCov = value;
                            else
                                delete message.crossCov;
                            continue;
                        }
                    case 5: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.normalVar = value;
                            else
                                delete message.normalVar;
                            continue;
                        }
                    case 6: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.x1M = value;
                            else
                                delete message.x1M;
                            continue;
                        }
                    case 7: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.y1M = value;
                            else
                                delete message.y1M;
                            continue;
                        }
                    case 8: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.x2M = value;
                            else
                                delete message.x2M;
                            continue;
                        }
                    case 9: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.y2M = value;
                            else
                                delete message.y2M;
                            continue;
                        }
                    case 10: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.roughnessM = value;
                            else
                                delete message.roughnessM;
                            continue;
                        }
                    case 11: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.uint32())
                                message.echoes = value;
                            else
                                delete message.echoes;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Wall;
        })();

        v1.Corner = (function() {

            /**
             * Properties of a Corner.
             * @typedef {Object} leeway.v1.Corner.$Properties
             * @property {number|null} [xM] Corner xM
             * @property {number|null} [yM] Corner yM
             * @property {number|null} [angleRad] Corner angleRad
             * @property {number|null} [angleSdRad] Corner angleSdRad
             * @property {leeway.v1.CornerKind|null} [kind] Corner kind
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Corner.
             * @memberof leeway.v1
             * @interface ICorner
             * @augments leeway.v1.Corner.$Properties
             * @deprecated Use leeway.v1.Corner.$Properties instead.
             */

            /**
             * Shape of a Corner.
             * @typedef {leeway.v1.Corner.$Properties} leeway.v1.Corner.$Shape
             */

            /**
             * Constructs a new Corner.
             * @memberof leeway.v1
             * @classdesc Represents a Corner.
             * @constructor
             * @param {leeway.v1.Corner.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Corner = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Corner xM.
             * @member {number} xM
             * @memberof leeway.v1.Corner
             * @instance
             */
            Corner.prototype.xM = 0;

            /**
             * Corner yM.
             * @member {number} yM
             * @memberof leeway.v1.Corner
             * @instance
             */
            Corner.prototype.yM = 0;

            /**
             * Corner angleRad.
             * @member {number} angleRad
             * @memberof leeway.v1.Corner
             * @instance
             */
            Corner.prototype.angleRad = 0;

            /**
             * Corner angleSdRad.
             * @member {number} angleSdRad
             * @memberof leeway.v1.Corner
             * @instance
             */
            Corner.prototype.angleSdRad = 0;

            /**
             * Corner kind.
             * @member {leeway.v1.CornerKind} kind
             * @memberof leeway.v1.Corner
             * @instance
             */
            Corner.prototype.kind = 0;

            /**
             * Encodes the specified Corner message. Does not implicitly {@link leeway.v1.Corner.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Corner
             * @static
             * @param {leeway.v1.Corner.$Properties} message Corner message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Corner.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.xM != null && $Object.hasOwnProperty.call(message, "xM") && !$Object.is(message.xM, 0))
                    writer.uint32(/* id 1, wireType 5 =*/13).float(message.xM);
                if (message.yM != null && $Object.hasOwnProperty.call(message, "yM") && !$Object.is(message.yM, 0))
                    writer.uint32(/* id 2, wireType 5 =*/21).float(message.yM);
                if (message.angleRad != null && $Object.hasOwnProperty.call(message, "angleRad") && !$Object.is(message.angleRad, 0))
                    writer.uint32(/* id 3, wireType 5 =*/29).float(message.angleRad);
                if (message.angleSdRad != null && $Object.hasOwnProperty.call(message, "angleSdRad") && !$Object.is(message.angleSdRad, 0))
                    writer.uint32(/* id 4, wireType 5 =*/37).float(message.angleSdRad);
                if (message.kind != null && $Object.hasOwnProperty.call(message, "kind") && message.kind !== 0)
                    writer.uint32(/* id 5, wireType 0 =*/40).int32(message.kind);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Corner message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Corner
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Corner & leeway.v1.Corner.$Shape} Corner
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Corner.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Corner();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.xM = value;
                            else
                                delete message.xM;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.yM = value;
                            else
                                delete message.yM;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.angleRad = value;
                            else
                                delete message.angleRad;
                            continue;
                        }
                    case 4: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.angleSdRad = value;
                            else
                                delete message.angleSdRad;
                            continue;
                        }
                    case 5: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.int32())
                                message.kind = value;
                            else
                                delete message.kind;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Corner;
        })();

        /**
         * CornerKind enum.
         * @name leeway.v1.CornerKind
         * @enum {number}
         * @property {number} CORNER_KIND_UNSPECIFIED=0 CORNER_KIND_UNSPECIFIED value
         * @property {number} CORNER_KIND_INNER=1 CORNER_KIND_INNER value
         * @property {number} CORNER_KIND_OUTER=2 CORNER_KIND_OUTER value
         */
        v1.CornerKind = (function() {
            const valuesById = $Object.create(null), values = $Object.create(valuesById);
            values[valuesById[0] = "CORNER_KIND_UNSPECIFIED"] = 0;
            values[valuesById[1] = "CORNER_KIND_INNER"] = 1;
            values[valuesById[2] = "CORNER_KIND_OUTER"] = 2;
            return values;
        })();

        v1.Opening = (function() {

            /**
             * Properties of an Opening.
             * @typedef {Object} leeway.v1.Opening.$Properties
             * @property {number|null} [x1M] Opening x1M
             * @property {number|null} [y1M] Opening y1M
             * @property {number|null} [x2M] Opening x2M
             * @property {number|null} [y2M] Opening y2M
             * @property {number|null} [widthM] Opening widthM
             * @property {number|null} [widthSdM] Opening widthSdM
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of an Opening.
             * @memberof leeway.v1
             * @interface IOpening
             * @augments leeway.v1.Opening.$Properties
             * @deprecated Use leeway.v1.Opening.$Properties instead.
             */

            /**
             * Shape of an Opening.
             * @typedef {leeway.v1.Opening.$Properties} leeway.v1.Opening.$Shape
             */

            /**
             * Constructs a new Opening.
             * @memberof leeway.v1
             * @classdesc Represents an Opening.
             * @constructor
             * @param {leeway.v1.Opening.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Opening = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Opening x1M.
             * @member {number} x1M
             * @memberof leeway.v1.Opening
             * @instance
             */
            Opening.prototype.x1M = 0;

            /**
             * Opening y1M.
             * @member {number} y1M
             * @memberof leeway.v1.Opening
             * @instance
             */
            Opening.prototype.y1M = 0;

            /**
             * Opening x2M.
             * @member {number} x2M
             * @memberof leeway.v1.Opening
             * @instance
             */
            Opening.prototype.x2M = 0;

            /**
             * Opening y2M.
             * @member {number} y2M
             * @memberof leeway.v1.Opening
             * @instance
             */
            Opening.prototype.y2M = 0;

            /**
             * Opening widthM.
             * @member {number} widthM
             * @memberof leeway.v1.Opening
             * @instance
             */
            Opening.prototype.widthM = 0;

            /**
             * Opening widthSdM.
             * @member {number} widthSdM
             * @memberof leeway.v1.Opening
             * @instance
             */
            Opening.prototype.widthSdM = 0;

            /**
             * Encodes the specified Opening message. Does not implicitly {@link leeway.v1.Opening.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Opening
             * @static
             * @param {leeway.v1.Opening.$Properties} message Opening message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Opening.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.x1M != null && $Object.hasOwnProperty.call(message, "x1M") && !$Object.is(message.x1M, 0))
                    writer.uint32(/* id 1, wireType 5 =*/13).float(message.x1M);
                if (message.y1M != null && $Object.hasOwnProperty.call(message, "y1M") && !$Object.is(message.y1M, 0))
                    writer.uint32(/* id 2, wireType 5 =*/21).float(message.y1M);
                if (message.x2M != null && $Object.hasOwnProperty.call(message, "x2M") && !$Object.is(message.x2M, 0))
                    writer.uint32(/* id 3, wireType 5 =*/29).float(message.x2M);
                if (message.y2M != null && $Object.hasOwnProperty.call(message, "y2M") && !$Object.is(message.y2M, 0))
                    writer.uint32(/* id 4, wireType 5 =*/37).float(message.y2M);
                if (message.widthM != null && $Object.hasOwnProperty.call(message, "widthM") && !$Object.is(message.widthM, 0))
                    writer.uint32(/* id 5, wireType 5 =*/45).float(message.widthM);
                if (message.widthSdM != null && $Object.hasOwnProperty.call(message, "widthSdM") && !$Object.is(message.widthSdM, 0))
                    writer.uint32(/* id 6, wireType 5 =*/53).float(message.widthSdM);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes an Opening message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Opening
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Opening & leeway.v1.Opening.$Shape} Opening
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Opening.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Opening();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.x1M = value;
                            else
                                delete message.x1M;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.y1M = value;
                            else
                                delete message.y1M;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.x2M = value;
                            else
                                delete message.x2M;
                            continue;
                        }
                    case 4: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.y2M = value;
                            else
                                delete message.y2M;
                            continue;
                        }
                    case 5: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.widthM = value;
                            else
                                delete message.widthM;
                            continue;
                        }
                    case 6: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.widthSdM = value;
                            else
                                delete message.widthSdM;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Opening;
        })();

        v1.Post = (function() {

            /**
             * Properties of a Post.
             * @typedef {Object} leeway.v1.Post.$Properties
             * @property {number|null} [xM] Post xM
             * @property {number|null} [yM] Post yM
             * @property {number|null} [radiusM] Post radiusM
             * @property {number|null} [radiusSdM] Post radiusSdM
             * @property {number|null} [echoes] Post echoes
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Post.
             * @memberof leeway.v1
             * @interface IPost
             * @augments leeway.v1.Post.$Properties
             * @deprecated Use leeway.v1.Post.$Properties instead.
             */

            /**
             * Shape of a Post.
             * @typedef {leeway.v1.Post.$Properties} leeway.v1.Post.$Shape
             */

            /**
             * Constructs a new Post.
             * @memberof leeway.v1
             * @classdesc Represents a Post.
             * @constructor
             * @param {leeway.v1.Post.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Post = function (properties) {
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Post xM.
             * @member {number} xM
             * @memberof leeway.v1.Post
             * @instance
             */
            Post.prototype.xM = 0;

            /**
             * Post yM.
             * @member {number} yM
             * @memberof leeway.v1.Post
             * @instance
             */
            Post.prototype.yM = 0;

            /**
             * Post radiusM.
             * @member {number} radiusM
             * @memberof leeway.v1.Post
             * @instance
             */
            Post.prototype.radiusM = 0;

            /**
             * Post radiusSdM.
             * @member {number} radiusSdM
             * @memberof leeway.v1.Post
             * @instance
             */
            Post.prototype.radiusSdM = 0;

            /**
             * Post echoes.
             * @member {number} echoes
             * @memberof leeway.v1.Post
             * @instance
             */
            Post.prototype.echoes = 0;

            /**
             * Encodes the specified Post message. Does not implicitly {@link leeway.v1.Post.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Post
             * @static
             * @param {leeway.v1.Post.$Properties} message Post message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Post.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.xM != null && $Object.hasOwnProperty.call(message, "xM") && !$Object.is(message.xM, 0))
                    writer.uint32(/* id 1, wireType 5 =*/13).float(message.xM);
                if (message.yM != null && $Object.hasOwnProperty.call(message, "yM") && !$Object.is(message.yM, 0))
                    writer.uint32(/* id 2, wireType 5 =*/21).float(message.yM);
                if (message.radiusM != null && $Object.hasOwnProperty.call(message, "radiusM") && !$Object.is(message.radiusM, 0))
                    writer.uint32(/* id 3, wireType 5 =*/29).float(message.radiusM);
                if (message.radiusSdM != null && $Object.hasOwnProperty.call(message, "radiusSdM") && !$Object.is(message.radiusSdM, 0))
                    writer.uint32(/* id 4, wireType 5 =*/37).float(message.radiusSdM);
                if (message.echoes != null && $Object.hasOwnProperty.call(message, "echoes") && message.echoes !== 0)
                    writer.uint32(/* id 5, wireType 0 =*/40).uint32(message.echoes);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Post message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Post
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Post & leeway.v1.Post.$Shape} Post
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Post.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Post();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.xM = value;
                            else
                                delete message.xM;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.yM = value;
                            else
                                delete message.yM;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.radiusM = value;
                            else
                                delete message.radiusM;
                            continue;
                        }
                    case 4: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.radiusSdM = value;
                            else
                                delete message.radiusSdM;
                            continue;
                        }
                    case 5: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.uint32())
                                message.echoes = value;
                            else
                                delete message.echoes;
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Post;
        })();

        v1.Sweep = (function() {

            /**
             * Properties of a Sweep.
             * @typedef {Object} leeway.v1.Sweep.$Properties
             * @property {number|null} [number] Sweep number
             * @property {number|null} [firstTimeS] Sweep firstTimeS
             * @property {number|null} [periodS] Sweep periodS
             * @property {Array.<number>|null} [bearingRad] Sweep bearingRad
             * @property {Array.<number>|null} [rangeMm] Sweep rangeMm
             * @property {Array.<number>|null} [strength] Sweep strength
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */

            /**
             * Properties of a Sweep.
             * @memberof leeway.v1
             * @interface ISweep
             * @augments leeway.v1.Sweep.$Properties
             * @deprecated Use leeway.v1.Sweep.$Properties instead.
             */

            /**
             * Shape of a Sweep.
             * @typedef {leeway.v1.Sweep.$Properties} leeway.v1.Sweep.$Shape
             */

            /**
             * Constructs a new Sweep.
             * @memberof leeway.v1
             * @classdesc Represents a Sweep.
             * @constructor
             * @param {leeway.v1.Sweep.$Properties=} [properties] Properties to set
             * @property {Array.<Uint8Array>} [$unknowns] Unknown fields preserved while decoding when enabled
             */
            const Sweep = function (properties) {
                this.bearingRad = [];
                this.rangeMm = [];
                this.strength = [];
                if (properties)
                    for (let keys = $Object.keys(properties), i = 0; i < keys.length; ++i)
                        if (properties[keys[i]] != null && keys[i] !== "__proto__")
                            this[keys[i]] = properties[keys[i]];
            };

            /**
             * Sweep number.
             * @member {number} number
             * @memberof leeway.v1.Sweep
             * @instance
             */
            Sweep.prototype.number = 0;

            /**
             * Sweep firstTimeS.
             * @member {number} firstTimeS
             * @memberof leeway.v1.Sweep
             * @instance
             */
            Sweep.prototype.firstTimeS = 0;

            /**
             * Sweep periodS.
             * @member {number} periodS
             * @memberof leeway.v1.Sweep
             * @instance
             */
            Sweep.prototype.periodS = 0;

            /**
             * Sweep bearingRad.
             * @member {Array.<number>} bearingRad
             * @memberof leeway.v1.Sweep
             * @instance
             */
            Sweep.prototype.bearingRad = $util.emptyArray;

            /**
             * Sweep rangeMm.
             * @member {Array.<number>} rangeMm
             * @memberof leeway.v1.Sweep
             * @instance
             */
            Sweep.prototype.rangeMm = $util.emptyArray;

            /**
             * Sweep strength.
             * @member {Array.<number>} strength
             * @memberof leeway.v1.Sweep
             * @instance
             */
            Sweep.prototype.strength = $util.emptyArray;

            /**
             * Encodes the specified Sweep message. Does not implicitly {@link leeway.v1.Sweep.verify|verify} messages.
             * @function encode
             * @memberof leeway.v1.Sweep
             * @static
             * @param {leeway.v1.Sweep.$Properties} message Sweep message or plain object to encode
             * @param {$protobuf.Writer} [writer] Writer to encode to
             * @returns {$protobuf.Writer} Writer
             */
            Sweep.encode = function (message, writer, _depth) {
                if (!writer)
                    writer = $Writer.create();
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $util.recursionLimit)
                    throw $Error("max depth exceeded");
                if (message.number != null && $Object.hasOwnProperty.call(message, "number") && message.number !== 0)
                    writer.uint32(/* id 1, wireType 0 =*/8).uint32(message.number);
                if (message.firstTimeS != null && $Object.hasOwnProperty.call(message, "firstTimeS") && !$Object.is(message.firstTimeS, 0))
                    writer.uint32(/* id 2, wireType 1 =*/17).double(message.firstTimeS);
                if (message.periodS != null && $Object.hasOwnProperty.call(message, "periodS") && !$Object.is(message.periodS, 0))
                    writer.uint32(/* id 3, wireType 5 =*/29).float(message.periodS);
                if (message.bearingRad != null && message.bearingRad.length)
                    writer.uint32(/* id 4, wireType 2 =*/34).floats(message.bearingRad);
                if (message.rangeMm != null && message.rangeMm.length)
                    writer.uint32(/* id 5, wireType 2 =*/42).sint32s(message.rangeMm);
                if (message.strength != null && message.strength.length)
                    writer.uint32(/* id 6, wireType 2 =*/50).uint32s(message.strength);
                if (message.$unknowns != null && $Object.hasOwnProperty.call(message, "$unknowns"))
                    for (let i = 0; i < message.$unknowns.length; ++i)
                        writer.raw(message.$unknowns[i]);
                return writer;
            };

            /**
             * Decodes a Sweep message from the specified reader or buffer.
             * @function decode
             * @memberof leeway.v1.Sweep
             * @static
             * @param {$protobuf.Reader|Uint8Array} reader Reader or buffer to decode from
             * @param {number} [length] Message length if known beforehand
             * @returns {leeway.v1.Sweep & leeway.v1.Sweep.$Shape} Sweep
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            Sweep.decode = function (reader, length, _end, _depth, _target) {
                if (!(reader instanceof $Reader))
                    reader = $Reader.create(reader);
                if (_depth === $undefined)
                    _depth = 0;
                if (_depth > $Reader.recursionLimit)
                    throw $Error("max depth exceeded");
                let end, message, value;
                if (length === $undefined)
                    end = reader.len;
                else {
                    end = reader.pos + length;
                    if (end > reader.len)
                        throw $RangeError("index out of range");
                    length = reader.len;
                    reader.len = end;
                }
                message = _target || new $root.leeway.v1.Sweep();
                while (reader.pos < end) {
                    let start = reader.pos;
                    let tag = reader.tag();
                    if (tag === _end) {
                        _end = $undefined;
                        break;
                    }
                    let wireType = tag & 7;
                    switch (tag >>>= 3) {
                    case 1: {
                            if (wireType !== 0)
                                break;
                            if (value = reader.uint32())
                                message.number = value;
                            else
                                delete message.number;
                            continue;
                        }
                    case 2: {
                            if (wireType !== 1)
                                break;
                            if (!$Object.is(value = reader.double(), 0))
                                message.firstTimeS = value;
                            else
                                delete message.firstTimeS;
                            continue;
                        }
                    case 3: {
                            if (wireType !== 5)
                                break;
                            if (!$Object.is(value = reader.float(), 0))
                                message.periodS = value;
                            else
                                delete message.periodS;
                            continue;
                        }
                    case 4: {
                            if (wireType === 2) {
                                if (!(message.bearingRad && message.bearingRad.length))
                                    message.bearingRad = [];
                                reader.floats(message.bearingRad);
                                continue;
                            }
                            if (wireType !== 5)
                                break;
                            if (!(message.bearingRad && message.bearingRad.length))
                                message.bearingRad = [];
                            message.bearingRad.push(reader.float());
                            continue;
                        }
                    case 5: {
                            if (wireType === 2) {
                                if (!(message.rangeMm && message.rangeMm.length))
                                    message.rangeMm = [];
                                reader.sint32s(message.rangeMm);
                                continue;
                            }
                            if (wireType !== 0)
                                break;
                            if (!(message.rangeMm && message.rangeMm.length))
                                message.rangeMm = [];
                            message.rangeMm.push(reader.sint32());
                            continue;
                        }
                    case 6: {
                            if (wireType === 2) {
                                if (!(message.strength && message.strength.length))
                                    message.strength = [];
                                reader.uint32s(message.strength);
                                continue;
                            }
                            if (wireType !== 0)
                                break;
                            if (!(message.strength && message.strength.length))
                                message.strength = [];
                            message.strength.push(reader.uint32());
                            continue;
                        }
                    }
                    reader.skipType(wireType, _depth, tag);
                    if (!reader.discardUnknown) {
                        $util.makeProp(message, "$unknowns", false);
                        (message.$unknowns || (message.$unknowns = [])).push(reader.raw(start, reader.pos));
                    }
                }
                if (length !== $undefined) {
                    if (reader.pos !== end)
                        throw $RangeError("index out of range");
                    reader.len = length;
                }
                if (_end !== $undefined)
                    throw $Error("missing end group");
                return message;
            };

            return Sweep;
        })();

        return v1;
    })();

    return leeway;
})();

export {
  $root as default
};
