import * as $protobuf from "protobufjs/minimal.js";
import Long = require("long");

/** Namespace leeway. */
export namespace leeway {

    /** Namespace v1. */
    namespace v1 {

        /**
         * Properties of a ClientMessage.
         * @deprecated Use leeway.v1.ClientMessage.$Properties instead.
         */
        interface IClientMessage extends leeway.v1.ClientMessage.$Properties {
        }

        /** Represents a ClientMessage. */
        class ClientMessage {

            /**
             * Constructs a new ClientMessage.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.ClientMessage.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** ClientMessage subscribe. */
            subscribe?: (leeway.v1.Subscribe.$Properties|null);

            /** ClientMessage odometry. */
            odometry?: (leeway.v1.Odometry.$Properties|null);

            /** ClientMessage mark. */
            mark?: (leeway.v1.Mark.$Properties|null);

            /** ClientMessage drive. */
            drive?: (leeway.v1.Drive.$Properties|null);

            /** ClientMessage record. */
            record?: (leeway.v1.Record.$Properties|null);

            /** ClientMessage keep. */
            keep?: (leeway.v1.Keep.$Properties|null);

            /** ClientMessage replay. */
            replay?: (leeway.v1.Replay.$Properties|null);

            /** ClientMessage body. */
            body?: ("subscribe"|"odometry"|"mark"|"drive"|"record"|"keep"|"replay");

            /**
             * Encodes the specified ClientMessage message. Does not implicitly {@link leeway.v1.ClientMessage.verify|verify} messages.
             * @param message ClientMessage message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.ClientMessage.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a ClientMessage message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.ClientMessage & leeway.v1.ClientMessage.$Shape} ClientMessage
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.ClientMessage & leeway.v1.ClientMessage.$Shape;
        }

        namespace ClientMessage {

            /** Properties of a ClientMessage. */
            interface $Properties {

                /** ClientMessage subscribe */
                subscribe?: (leeway.v1.Subscribe.$Properties|null);

                /** ClientMessage odometry */
                odometry?: (leeway.v1.Odometry.$Properties|null);

                /** ClientMessage mark */
                mark?: (leeway.v1.Mark.$Properties|null);

                /** ClientMessage drive */
                drive?: (leeway.v1.Drive.$Properties|null);

                /** ClientMessage record */
                record?: (leeway.v1.Record.$Properties|null);

                /** ClientMessage keep */
                keep?: (leeway.v1.Keep.$Properties|null);

                /** ClientMessage replay */
                replay?: (leeway.v1.Replay.$Properties|null);

                /** ClientMessage body */
                body?: ("subscribe"|"odometry"|"mark"|"drive"|"record"|"keep"|"replay");

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Narrowed shape of a ClientMessage. */
            type $Shape = {
              subscribe?: leeway.v1.Subscribe.$Shape|null;
              odometry?: leeway.v1.Odometry.$Shape|null;
              mark?: leeway.v1.Mark.$Shape|null;
              drive?: leeway.v1.Drive.$Shape|null;
              record?: leeway.v1.Record.$Shape|null;
              keep?: leeway.v1.Keep.$Shape|null;
              replay?: leeway.v1.Replay.$Shape|null;
              $unknowns?: Uint8Array[];
            } & (
              ({ body?: undefined; subscribe?: null; odometry?: null; mark?: null; drive?: null; record?: null; keep?: null; replay?: null }|{ body?: "subscribe"; subscribe: leeway.v1.Subscribe.$Shape; odometry?: null; mark?: null; drive?: null; record?: null; keep?: null; replay?: null }|{ body?: "odometry"; subscribe?: null; odometry: leeway.v1.Odometry.$Shape; mark?: null; drive?: null; record?: null; keep?: null; replay?: null }|{ body?: "mark"; subscribe?: null; odometry?: null; mark: leeway.v1.Mark.$Shape; drive?: null; record?: null; keep?: null; replay?: null }|{ body?: "drive"; subscribe?: null; odometry?: null; mark?: null; drive: leeway.v1.Drive.$Shape; record?: null; keep?: null; replay?: null }|{ body?: "record"; subscribe?: null; odometry?: null; mark?: null; drive?: null; record: leeway.v1.Record.$Shape; keep?: null; replay?: null }|{ body?: "keep"; subscribe?: null; odometry?: null; mark?: null; drive?: null; record?: null; keep: leeway.v1.Keep.$Shape; replay?: null }|{ body?: "replay"; subscribe?: null; odometry?: null; mark?: null; drive?: null; record?: null; keep?: null; replay: leeway.v1.Replay.$Shape })
            );
        }

        /**
         * Properties of a Subscribe.
         * @deprecated Use leeway.v1.Subscribe.$Properties instead.
         */
        interface ISubscribe extends leeway.v1.Subscribe.$Properties {
        }

        /** Represents a Subscribe. */
        class Subscribe {

            /**
             * Constructs a new Subscribe.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Subscribe.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Subscribe wants. */
            wants: leeway.v1.Want.$Properties[];

            /**
             * Encodes the specified Subscribe message. Does not implicitly {@link leeway.v1.Subscribe.verify|verify} messages.
             * @param message Subscribe message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Subscribe.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Subscribe message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Subscribe & leeway.v1.Subscribe.$Shape} Subscribe
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Subscribe & leeway.v1.Subscribe.$Shape;
        }

        namespace Subscribe {

            /** Properties of a Subscribe. */
            interface $Properties {

                /** Subscribe wants */
                wants?: (leeway.v1.Want.$Properties[]|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Subscribe. */
            type $Shape = leeway.v1.Subscribe.$Properties;
        }

        /**
         * Properties of a Want.
         * @deprecated Use leeway.v1.Want.$Properties instead.
         */
        interface IWant extends leeway.v1.Want.$Properties {
        }

        /** Represents a Want. */
        class Want {

            /**
             * Constructs a new Want.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Want.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Want feed. */
            feed: leeway.v1.Feed;

            /** Want maxRateHz. */
            maxRateHz?: (number|null);

            /**
             * Encodes the specified Want message. Does not implicitly {@link leeway.v1.Want.verify|verify} messages.
             * @param message Want message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Want.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Want message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Want & leeway.v1.Want.$Shape} Want
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Want & leeway.v1.Want.$Shape;
        }

        namespace Want {

            /** Properties of a Want. */
            interface $Properties {

                /** Want feed */
                feed?: (leeway.v1.Feed|null);

                /** Want maxRateHz */
                maxRateHz?: (number|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Want. */
            type $Shape = leeway.v1.Want.$Properties;
        }

        /** Feed enum. */
        enum Feed {

            /** FEED_UNSPECIFIED value */
            FEED_UNSPECIFIED = 0,

            /** FEED_SWEEP value */
            FEED_SWEEP = 1,

            /** FEED_CLEARANCE value */
            FEED_CLEARANCE = 2,

            /** FEED_SHAPES value */
            FEED_SHAPES = 3,

            /** FEED_MOVERS value */
            FEED_MOVERS = 4,

            /** FEED_MOTION value */
            FEED_MOTION = 5,

            /** FEED_HEALTH value */
            FEED_HEALTH = 6,

            /** FEED_RUN value */
            FEED_RUN = 7
        }

        /**
         * Properties of a ServerMessage.
         * @deprecated Use leeway.v1.ServerMessage.$Properties instead.
         */
        interface IServerMessage extends leeway.v1.ServerMessage.$Properties {
        }

        /** Represents a ServerMessage. */
        class ServerMessage {

            /**
             * Constructs a new ServerMessage.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.ServerMessage.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** ServerMessage sequence. */
            sequence: number;

            /** ServerMessage timeS. */
            timeS: number;

            /** ServerMessage sentS. */
            sentS: number;

            /** ServerMessage hello. */
            hello?: (leeway.v1.Hello.$Properties|null);

            /** ServerMessage sweep. */
            sweep?: (leeway.v1.Sweep.$Properties|null);

            /** ServerMessage clearance. */
            clearance?: (leeway.v1.Clearance.$Properties|null);

            /** ServerMessage shapes. */
            shapes?: (leeway.v1.Shapes.$Properties|null);

            /** ServerMessage movers. */
            movers?: (leeway.v1.Movers.$Properties|null);

            /** ServerMessage motion. */
            motion?: (leeway.v1.Motion.$Properties|null);

            /** ServerMessage health. */
            health?: (leeway.v1.Health.$Properties|null);

            /** ServerMessage run. */
            run?: (leeway.v1.RunEvent.$Properties|null);

            /** ServerMessage body. */
            body?: ("hello"|"sweep"|"clearance"|"shapes"|"movers"|"motion"|"health"|"run");

            /**
             * Encodes the specified ServerMessage message. Does not implicitly {@link leeway.v1.ServerMessage.verify|verify} messages.
             * @param message ServerMessage message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.ServerMessage.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a ServerMessage message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.ServerMessage & leeway.v1.ServerMessage.$Shape} ServerMessage
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.ServerMessage & leeway.v1.ServerMessage.$Shape;
        }

        namespace ServerMessage {

            /** Properties of a ServerMessage. */
            interface $Properties {

                /** ServerMessage sequence */
                sequence?: (number|null);

                /** ServerMessage timeS */
                timeS?: (number|null);

                /** ServerMessage sentS */
                sentS?: (number|null);

                /** ServerMessage hello */
                hello?: (leeway.v1.Hello.$Properties|null);

                /** ServerMessage sweep */
                sweep?: (leeway.v1.Sweep.$Properties|null);

                /** ServerMessage clearance */
                clearance?: (leeway.v1.Clearance.$Properties|null);

                /** ServerMessage shapes */
                shapes?: (leeway.v1.Shapes.$Properties|null);

                /** ServerMessage movers */
                movers?: (leeway.v1.Movers.$Properties|null);

                /** ServerMessage motion */
                motion?: (leeway.v1.Motion.$Properties|null);

                /** ServerMessage health */
                health?: (leeway.v1.Health.$Properties|null);

                /** ServerMessage run */
                run?: (leeway.v1.RunEvent.$Properties|null);

                /** ServerMessage body */
                body?: ("hello"|"sweep"|"clearance"|"shapes"|"movers"|"motion"|"health"|"run");

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Narrowed shape of a ServerMessage. */
            type $Shape = {
              sequence?: number|null;
              timeS?: number|null;
              sentS?: number|null;
              hello?: leeway.v1.Hello.$Shape|null;
              sweep?: leeway.v1.Sweep.$Shape|null;
              clearance?: leeway.v1.Clearance.$Shape|null;
              shapes?: leeway.v1.Shapes.$Shape|null;
              movers?: leeway.v1.Movers.$Shape|null;
              motion?: leeway.v1.Motion.$Shape|null;
              health?: leeway.v1.Health.$Shape|null;
              run?: leeway.v1.RunEvent.$Shape|null;
              $unknowns?: Uint8Array[];
            } & (
              ({ body?: undefined; hello?: null; sweep?: null; clearance?: null; shapes?: null; movers?: null; motion?: null; health?: null; run?: null }|{ body?: "hello"; hello: leeway.v1.Hello.$Shape; sweep?: null; clearance?: null; shapes?: null; movers?: null; motion?: null; health?: null; run?: null }|{ body?: "sweep"; hello?: null; sweep: leeway.v1.Sweep.$Shape; clearance?: null; shapes?: null; movers?: null; motion?: null; health?: null; run?: null }|{ body?: "clearance"; hello?: null; sweep?: null; clearance: leeway.v1.Clearance.$Shape; shapes?: null; movers?: null; motion?: null; health?: null; run?: null }|{ body?: "shapes"; hello?: null; sweep?: null; clearance?: null; shapes: leeway.v1.Shapes.$Shape; movers?: null; motion?: null; health?: null; run?: null }|{ body?: "movers"; hello?: null; sweep?: null; clearance?: null; shapes?: null; movers: leeway.v1.Movers.$Shape; motion?: null; health?: null; run?: null }|{ body?: "motion"; hello?: null; sweep?: null; clearance?: null; shapes?: null; movers?: null; motion: leeway.v1.Motion.$Shape; health?: null; run?: null }|{ body?: "health"; hello?: null; sweep?: null; clearance?: null; shapes?: null; movers?: null; motion?: null; health: leeway.v1.Health.$Shape; run?: null }|{ body?: "run"; hello?: null; sweep?: null; clearance?: null; shapes?: null; movers?: null; motion?: null; health?: null; run: leeway.v1.RunEvent.$Shape })
            );
        }

        /**
         * Properties of a Hello.
         * @deprecated Use leeway.v1.Hello.$Properties instead.
         */
        interface IHello extends leeway.v1.Hello.$Properties {
        }

        /** Represents a Hello. */
        class Hello {

            /**
             * Constructs a new Hello.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Hello.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Hello version. */
            version: string;

            /** Hello rover. */
            rover: string;

            /** Hello role. */
            role: string;

            /** Hello source. */
            source: string;

            /** Hello outlineM. */
            outlineM: leeway.v1.Point.$Properties[];

            /** Hello reachM. */
            reachM: number[];

            /** Hello stopM. */
            stopM: number;

            /** Hello run. */
            run: string;

            /**
             * Encodes the specified Hello message. Does not implicitly {@link leeway.v1.Hello.verify|verify} messages.
             * @param message Hello message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Hello.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Hello message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Hello & leeway.v1.Hello.$Shape} Hello
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Hello & leeway.v1.Hello.$Shape;
        }

        namespace Hello {

            /** Properties of a Hello. */
            interface $Properties {

                /** Hello version */
                version?: (string|null);

                /** Hello rover */
                rover?: (string|null);

                /** Hello role */
                role?: (string|null);

                /** Hello source */
                source?: (string|null);

                /** Hello outlineM */
                outlineM?: (leeway.v1.Point.$Properties[]|null);

                /** Hello reachM */
                reachM?: (number[]|null);

                /** Hello stopM */
                stopM?: (number|null);

                /** Hello run */
                run?: (string|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Hello. */
            type $Shape = leeway.v1.Hello.$Properties;
        }

        /**
         * Properties of a Point.
         * @deprecated Use leeway.v1.Point.$Properties instead.
         */
        interface IPoint extends leeway.v1.Point.$Properties {
        }

        /** Represents a Point. */
        class Point {

            /**
             * Constructs a new Point.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Point.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Point xM. */
            xM: number;

            /** Point yM. */
            yM: number;

            /**
             * Encodes the specified Point message. Does not implicitly {@link leeway.v1.Point.verify|verify} messages.
             * @param message Point message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Point.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Point message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Point & leeway.v1.Point.$Shape} Point
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Point & leeway.v1.Point.$Shape;
        }

        namespace Point {

            /** Properties of a Point. */
            interface $Properties {

                /** Point xM */
                xM?: (number|null);

                /** Point yM */
                yM?: (number|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Point. */
            type $Shape = leeway.v1.Point.$Properties;
        }

        /**
         * Properties of a Clearance.
         * @deprecated Use leeway.v1.Clearance.$Properties instead.
         */
        interface IClearance extends leeway.v1.Clearance.$Properties {
        }

        /** Represents a Clearance. */
        class Clearance {

            /**
             * Constructs a new Clearance.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Clearance.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Clearance firstBearingRad. */
            firstBearingRad: number;

            /** Clearance state. */
            state: leeway.v1.SectorState[];

            /** Clearance leewayM. */
            leewayM: number[];

            /** Clearance nearestM. */
            nearestM: number[];

            /** Clearance ageS. */
            ageS: number[];

            /** Clearance thinnestM. */
            thinnestM: number[];

            /** Clearance aheadM. */
            aheadM: number;

            /**
             * Encodes the specified Clearance message. Does not implicitly {@link leeway.v1.Clearance.verify|verify} messages.
             * @param message Clearance message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Clearance.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Clearance message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Clearance & leeway.v1.Clearance.$Shape} Clearance
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Clearance & leeway.v1.Clearance.$Shape;
        }

        namespace Clearance {

            /** Properties of a Clearance. */
            interface $Properties {

                /** Clearance firstBearingRad */
                firstBearingRad?: (number|null);

                /** Clearance state */
                state?: (leeway.v1.SectorState[]|null);

                /** Clearance leewayM */
                leewayM?: (number[]|null);

                /** Clearance nearestM */
                nearestM?: (number[]|null);

                /** Clearance ageS */
                ageS?: (number[]|null);

                /** Clearance thinnestM */
                thinnestM?: (number[]|null);

                /** Clearance aheadM */
                aheadM?: (number|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Clearance. */
            type $Shape = leeway.v1.Clearance.$Properties;
        }

        /** SectorState enum. */
        enum SectorState {

            /** SECTOR_STATE_UNSPECIFIED value */
            SECTOR_STATE_UNSPECIFIED = 0,

            /** SECTOR_STATE_UNKNOWN value */
            SECTOR_STATE_UNKNOWN = 1,

            /** SECTOR_STATE_CLEAR value */
            SECTOR_STATE_CLEAR = 2,

            /** SECTOR_STATE_OBSTACLE value */
            SECTOR_STATE_OBSTACLE = 3
        }

        /**
         * Properties of a Health.
         * @deprecated Use leeway.v1.Health.$Properties instead.
         */
        interface IHealth extends leeway.v1.Health.$Properties {
        }

        /** Represents a Health. */
        class Health {

            /**
             * Constructs a new Health.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Health.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Health state. */
            state: leeway.v1.HealthState;

            /** Health spinHz. */
            spinHz: number;

            /** Health echoesPerS. */
            echoesPerS: number;

            /** Health validShare. */
            validShare: number;

            /** Health receivedBytes. */
            receivedBytes: number;

            /** Health skippedBytes. */
            skippedBytes: number;

            /** Health badChecks. */
            badChecks: number;

            /** Health blindBeyondOutlineM. */
            blindBeyondOutlineM: number;

            /** Health findings. */
            findings: leeway.v1.Finding.$Properties[];

            /**
             * Encodes the specified Health message. Does not implicitly {@link leeway.v1.Health.verify|verify} messages.
             * @param message Health message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Health.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Health message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Health & leeway.v1.Health.$Shape} Health
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Health & leeway.v1.Health.$Shape;
        }

        namespace Health {

            /** Properties of a Health. */
            interface $Properties {

                /** Health state */
                state?: (leeway.v1.HealthState|null);

                /** Health spinHz */
                spinHz?: (number|null);

                /** Health echoesPerS */
                echoesPerS?: (number|null);

                /** Health validShare */
                validShare?: (number|null);

                /** Health receivedBytes */
                receivedBytes?: (number|null);

                /** Health skippedBytes */
                skippedBytes?: (number|null);

                /** Health badChecks */
                badChecks?: (number|null);

                /** Health blindBeyondOutlineM */
                blindBeyondOutlineM?: (number|null);

                /** Health findings */
                findings?: (leeway.v1.Finding.$Properties[]|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Health. */
            type $Shape = leeway.v1.Health.$Properties;
        }

        /** HealthState enum. */
        enum HealthState {

            /** HEALTH_STATE_UNSPECIFIED value */
            HEALTH_STATE_UNSPECIFIED = 0,

            /** HEALTH_STATE_OK value */
            HEALTH_STATE_OK = 1,

            /** HEALTH_STATE_DEGRADED value */
            HEALTH_STATE_DEGRADED = 2,

            /** HEALTH_STATE_BLIND value */
            HEALTH_STATE_BLIND = 3
        }

        /**
         * Properties of a Finding.
         * @deprecated Use leeway.v1.Finding.$Properties instead.
         */
        interface IFinding extends leeway.v1.Finding.$Properties {
        }

        /** Represents a Finding. */
        class Finding {

            /**
             * Constructs a new Finding.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Finding.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Finding code. */
            code: string;

            /** Finding what. */
            what: string;

            /** Finding remedy. */
            remedy: string;

            /** Finding sinceS. */
            sinceS: number;

            /** Finding fromRad. */
            fromRad?: (number|null);

            /** Finding toRad. */
            toRad?: (number|null);

            /**
             * Encodes the specified Finding message. Does not implicitly {@link leeway.v1.Finding.verify|verify} messages.
             * @param message Finding message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Finding.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Finding message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Finding & leeway.v1.Finding.$Shape} Finding
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Finding & leeway.v1.Finding.$Shape;
        }

        namespace Finding {

            /** Properties of a Finding. */
            interface $Properties {

                /** Finding code */
                code?: (string|null);

                /** Finding what */
                what?: (string|null);

                /** Finding remedy */
                remedy?: (string|null);

                /** Finding sinceS */
                sinceS?: (number|null);

                /** Finding fromRad */
                fromRad?: (number|null);

                /** Finding toRad */
                toRad?: (number|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Finding. */
            type $Shape = leeway.v1.Finding.$Properties;
        }

        /**
         * Properties of a Motion.
         * @deprecated Use leeway.v1.Motion.$Properties instead.
         */
        interface IMotion extends leeway.v1.Motion.$Properties {
        }

        /** Represents a Motion. */
        class Motion {

            /**
             * Constructs a new Motion.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Motion.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Motion xM. */
            xM: number;

            /** Motion yM. */
            yM: number;

            /** Motion headingRad. */
            headingRad: number;

            /** Motion vxMps. */
            vxMps: number;

            /** Motion vyMps. */
            vyMps: number;

            /** Motion turnRadps. */
            turnRadps: number;

            /** Motion covariance. */
            covariance: number[];

            /** Motion quality. */
            quality: number;

            /**
             * Encodes the specified Motion message. Does not implicitly {@link leeway.v1.Motion.verify|verify} messages.
             * @param message Motion message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Motion.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Motion message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Motion & leeway.v1.Motion.$Shape} Motion
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Motion & leeway.v1.Motion.$Shape;
        }

        namespace Motion {

            /** Properties of a Motion. */
            interface $Properties {

                /** Motion xM */
                xM?: (number|null);

                /** Motion yM */
                yM?: (number|null);

                /** Motion headingRad */
                headingRad?: (number|null);

                /** Motion vxMps */
                vxMps?: (number|null);

                /** Motion vyMps */
                vyMps?: (number|null);

                /** Motion turnRadps */
                turnRadps?: (number|null);

                /** Motion covariance */
                covariance?: (number[]|null);

                /** Motion quality */
                quality?: (number|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Motion. */
            type $Shape = leeway.v1.Motion.$Properties;
        }

        /**
         * Properties of an Odometry.
         * @deprecated Use leeway.v1.Odometry.$Properties instead.
         */
        interface IOdometry extends leeway.v1.Odometry.$Properties {
        }

        /** Represents an Odometry. */
        class Odometry {

            /**
             * Constructs a new Odometry.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Odometry.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Odometry timeS. */
            timeS: number;

            /** Odometry xM. */
            xM: number;

            /** Odometry yM. */
            yM: number;

            /** Odometry headingRad. */
            headingRad: number;

            /**
             * Encodes the specified Odometry message. Does not implicitly {@link leeway.v1.Odometry.verify|verify} messages.
             * @param message Odometry message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Odometry.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes an Odometry message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Odometry & leeway.v1.Odometry.$Shape} Odometry
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Odometry & leeway.v1.Odometry.$Shape;
        }

        namespace Odometry {

            /** Properties of an Odometry. */
            interface $Properties {

                /** Odometry timeS */
                timeS?: (number|null);

                /** Odometry xM */
                xM?: (number|null);

                /** Odometry yM */
                yM?: (number|null);

                /** Odometry headingRad */
                headingRad?: (number|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of an Odometry. */
            type $Shape = leeway.v1.Odometry.$Properties;
        }

        /**
         * Properties of a Drive.
         * @deprecated Use leeway.v1.Drive.$Properties instead.
         */
        interface IDrive extends leeway.v1.Drive.$Properties {
        }

        /** Represents a Drive. */
        class Drive {

            /**
             * Constructs a new Drive.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Drive.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Drive vxMps. */
            vxMps: number;

            /** Drive turnRadps. */
            turnRadps: number;

            /**
             * Encodes the specified Drive message. Does not implicitly {@link leeway.v1.Drive.verify|verify} messages.
             * @param message Drive message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Drive.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Drive message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Drive & leeway.v1.Drive.$Shape} Drive
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Drive & leeway.v1.Drive.$Shape;
        }

        namespace Drive {

            /** Properties of a Drive. */
            interface $Properties {

                /** Drive vxMps */
                vxMps?: (number|null);

                /** Drive turnRadps */
                turnRadps?: (number|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Drive. */
            type $Shape = leeway.v1.Drive.$Properties;
        }

        /**
         * Properties of a Movers.
         * @deprecated Use leeway.v1.Movers.$Properties instead.
         */
        interface IMovers extends leeway.v1.Movers.$Properties {
        }

        /** Represents a Movers. */
        class Movers {

            /**
             * Constructs a new Movers.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Movers.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Movers sweep. */
            sweep: number;

            /** Movers movers. */
            movers: leeway.v1.Mover.$Properties[];

            /**
             * Encodes the specified Movers message. Does not implicitly {@link leeway.v1.Movers.verify|verify} messages.
             * @param message Movers message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Movers.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Movers message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Movers & leeway.v1.Movers.$Shape} Movers
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Movers & leeway.v1.Movers.$Shape;
        }

        namespace Movers {

            /** Properties of a Movers. */
            interface $Properties {

                /** Movers sweep */
                sweep?: (number|null);

                /** Movers movers */
                movers?: (leeway.v1.Mover.$Properties[]|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Movers. */
            type $Shape = leeway.v1.Movers.$Properties;
        }

        /**
         * Properties of a Mover.
         * @deprecated Use leeway.v1.Mover.$Properties instead.
         */
        interface IMover extends leeway.v1.Mover.$Properties {
        }

        /** Represents a Mover. */
        class Mover {

            /**
             * Constructs a new Mover.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Mover.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Mover id. */
            id: number;

            /** Mover xM. */
            xM: number;

            /** Mover yM. */
            yM: number;

            /** Mover vxMps. */
            vxMps: number;

            /** Mover vyMps. */
            vyMps: number;

            /** Mover widthM. */
            widthM: number;

            /** Mover ageS. */
            ageS: number;

            /** Mover confidence. */
            confidence: number;

            /** Mover closestM. */
            closestM: number;

            /** Mover closestInS. */
            closestInS: number;

            /**
             * Encodes the specified Mover message. Does not implicitly {@link leeway.v1.Mover.verify|verify} messages.
             * @param message Mover message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Mover.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Mover message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Mover & leeway.v1.Mover.$Shape} Mover
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Mover & leeway.v1.Mover.$Shape;
        }

        namespace Mover {

            /** Properties of a Mover. */
            interface $Properties {

                /** Mover id */
                id?: (number|null);

                /** Mover xM */
                xM?: (number|null);

                /** Mover yM */
                yM?: (number|null);

                /** Mover vxMps */
                vxMps?: (number|null);

                /** Mover vyMps */
                vyMps?: (number|null);

                /** Mover widthM */
                widthM?: (number|null);

                /** Mover ageS */
                ageS?: (number|null);

                /** Mover confidence */
                confidence?: (number|null);

                /** Mover closestM */
                closestM?: (number|null);

                /** Mover closestInS */
                closestInS?: (number|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Mover. */
            type $Shape = leeway.v1.Mover.$Properties;
        }

        /**
         * Properties of a RunEvent.
         * @deprecated Use leeway.v1.RunEvent.$Properties instead.
         */
        interface IRunEvent extends leeway.v1.RunEvent.$Properties {
        }

        /** Represents a RunEvent. */
        class RunEvent {

            /**
             * Constructs a new RunEvent.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.RunEvent.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** RunEvent run. */
            run: string;

            /** RunEvent what. */
            what: string;

            /** RunEvent atS. */
            atS: number;

            /** RunEvent text. */
            text: string;

            /** RunEvent state. */
            state: leeway.v1.RunState;

            /** RunEvent fromS. */
            fromS: number;

            /** RunEvent toS. */
            toS: number;

            /** RunEvent pace. */
            pace: number;

            /** RunEvent bytes. */
            bytes: number;

            /** RunEvent pinned. */
            pinned: boolean;

            /** RunEvent title. */
            title: string;

            /**
             * Encodes the specified RunEvent message. Does not implicitly {@link leeway.v1.RunEvent.verify|verify} messages.
             * @param message RunEvent message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.RunEvent.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a RunEvent message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.RunEvent & leeway.v1.RunEvent.$Shape} RunEvent
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.RunEvent & leeway.v1.RunEvent.$Shape;
        }

        namespace RunEvent {

            /** Properties of a RunEvent. */
            interface $Properties {

                /** RunEvent run */
                run?: (string|null);

                /** RunEvent what */
                what?: (string|null);

                /** RunEvent atS */
                atS?: (number|null);

                /** RunEvent text */
                text?: (string|null);

                /** RunEvent state */
                state?: (leeway.v1.RunState|null);

                /** RunEvent fromS */
                fromS?: (number|null);

                /** RunEvent toS */
                toS?: (number|null);

                /** RunEvent pace */
                pace?: (number|null);

                /** RunEvent bytes */
                bytes?: (number|null);

                /** RunEvent pinned */
                pinned?: (boolean|null);

                /** RunEvent title */
                title?: (string|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a RunEvent. */
            type $Shape = leeway.v1.RunEvent.$Properties;
        }

        /** RunState enum. */
        enum RunState {

            /** RUN_STATE_UNSPECIFIED value */
            RUN_STATE_UNSPECIFIED = 0,

            /** RUN_STATE_IDLE value */
            RUN_STATE_IDLE = 1,

            /** RUN_STATE_RECORDING value */
            RUN_STATE_RECORDING = 2,

            /** RUN_STATE_PLAYING value */
            RUN_STATE_PLAYING = 3,

            /** RUN_STATE_PAUSED value */
            RUN_STATE_PAUSED = 4,

            /** RUN_STATE_ENDED value */
            RUN_STATE_ENDED = 5
        }

        /**
         * Properties of a Mark.
         * @deprecated Use leeway.v1.Mark.$Properties instead.
         */
        interface IMark extends leeway.v1.Mark.$Properties {
        }

        /** Represents a Mark. */
        class Mark {

            /**
             * Constructs a new Mark.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Mark.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Mark text. */
            text: string;

            /**
             * Encodes the specified Mark message. Does not implicitly {@link leeway.v1.Mark.verify|verify} messages.
             * @param message Mark message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Mark.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Mark message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Mark & leeway.v1.Mark.$Shape} Mark
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Mark & leeway.v1.Mark.$Shape;
        }

        namespace Mark {

            /** Properties of a Mark. */
            interface $Properties {

                /** Mark text */
                text?: (string|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Mark. */
            type $Shape = leeway.v1.Mark.$Properties;
        }

        /**
         * Properties of a Record.
         * @deprecated Use leeway.v1.Record.$Properties instead.
         */
        interface IRecord extends leeway.v1.Record.$Properties {
        }

        /** Represents a Record. */
        class Record {

            /**
             * Constructs a new Record.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Record.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Record on. */
            on: boolean;

            /** Record title. */
            title: string;

            /**
             * Encodes the specified Record message. Does not implicitly {@link leeway.v1.Record.verify|verify} messages.
             * @param message Record message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Record.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Record message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Record & leeway.v1.Record.$Shape} Record
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Record & leeway.v1.Record.$Shape;
        }

        namespace Record {

            /** Properties of a Record. */
            interface $Properties {

                /** Record on */
                on?: (boolean|null);

                /** Record title */
                title?: (string|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Record. */
            type $Shape = leeway.v1.Record.$Properties;
        }

        /**
         * Properties of a Keep.
         * @deprecated Use leeway.v1.Keep.$Properties instead.
         */
        interface IKeep extends leeway.v1.Keep.$Properties {
        }

        /** Represents a Keep. */
        class Keep {

            /**
             * Constructs a new Keep.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Keep.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Keep run. */
            run: string;

            /** Keep pinned. */
            pinned?: (boolean|null);

            /** Keep title. */
            title?: (string|null);

            /** Keep remove. */
            remove?: (boolean|null);

            /**
             * Encodes the specified Keep message. Does not implicitly {@link leeway.v1.Keep.verify|verify} messages.
             * @param message Keep message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Keep.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Keep message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Keep & leeway.v1.Keep.$Shape} Keep
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Keep & leeway.v1.Keep.$Shape;
        }

        namespace Keep {

            /** Properties of a Keep. */
            interface $Properties {

                /** Keep run */
                run?: (string|null);

                /** Keep pinned */
                pinned?: (boolean|null);

                /** Keep title */
                title?: (string|null);

                /** Keep remove */
                remove?: (boolean|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Keep. */
            type $Shape = leeway.v1.Keep.$Properties;
        }

        /**
         * Properties of a Replay.
         * @deprecated Use leeway.v1.Replay.$Properties instead.
         */
        interface IReplay extends leeway.v1.Replay.$Properties {
        }

        /** Represents a Replay. */
        class Replay {

            /**
             * Constructs a new Replay.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Replay.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Replay atS. */
            atS?: (number|null);

            /** Replay step. */
            step?: (number|null);

            /** Replay pace. */
            pace?: (number|null);

            /** Replay paused. */
            paused?: (boolean|null);

            /**
             * Encodes the specified Replay message. Does not implicitly {@link leeway.v1.Replay.verify|verify} messages.
             * @param message Replay message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Replay.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Replay message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Replay & leeway.v1.Replay.$Shape} Replay
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Replay & leeway.v1.Replay.$Shape;
        }

        namespace Replay {

            /** Properties of a Replay. */
            interface $Properties {

                /** Replay atS */
                atS?: (number|null);

                /** Replay step */
                step?: (number|null);

                /** Replay pace */
                pace?: (number|null);

                /** Replay paused */
                paused?: (boolean|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Replay. */
            type $Shape = leeway.v1.Replay.$Properties;
        }

        /**
         * Properties of a Shapes.
         * @deprecated Use leeway.v1.Shapes.$Properties instead.
         */
        interface IShapes extends leeway.v1.Shapes.$Properties {
        }

        /** Represents a Shapes. */
        class Shapes {

            /**
             * Constructs a new Shapes.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Shapes.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Shapes sweep. */
            sweep: number;

            /** Shapes segments. */
            segments: leeway.v1.Segment.$Properties[];

            /** Shapes walls. */
            walls: leeway.v1.Wall.$Properties[];

            /** Shapes corners. */
            corners: leeway.v1.Corner.$Properties[];

            /** Shapes openings. */
            openings: leeway.v1.Opening.$Properties[];

            /** Shapes posts. */
            posts: leeway.v1.Post.$Properties[];

            /**
             * Encodes the specified Shapes message. Does not implicitly {@link leeway.v1.Shapes.verify|verify} messages.
             * @param message Shapes message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Shapes.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Shapes message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Shapes & leeway.v1.Shapes.$Shape} Shapes
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Shapes & leeway.v1.Shapes.$Shape;
        }

        namespace Shapes {

            /** Properties of a Shapes. */
            interface $Properties {

                /** Shapes sweep */
                sweep?: (number|null);

                /** Shapes segments */
                segments?: (leeway.v1.Segment.$Properties[]|null);

                /** Shapes walls */
                walls?: (leeway.v1.Wall.$Properties[]|null);

                /** Shapes corners */
                corners?: (leeway.v1.Corner.$Properties[]|null);

                /** Shapes openings */
                openings?: (leeway.v1.Opening.$Properties[]|null);

                /** Shapes posts */
                posts?: (leeway.v1.Post.$Properties[]|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Shapes. */
            type $Shape = leeway.v1.Shapes.$Properties;
        }

        /**
         * Properties of a Segment.
         * @deprecated Use leeway.v1.Segment.$Properties instead.
         */
        interface ISegment extends leeway.v1.Segment.$Properties {
        }

        /** Represents a Segment. */
        class Segment {

            /**
             * Constructs a new Segment.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Segment.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Segment first. */
            first: number;

            /** Segment count. */
            count: number;

            /** Segment xM. */
            xM: number;

            /** Segment yM. */
            yM: number;

            /** Segment widthM. */
            widthM: number;

            /**
             * Encodes the specified Segment message. Does not implicitly {@link leeway.v1.Segment.verify|verify} messages.
             * @param message Segment message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Segment.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Segment message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Segment & leeway.v1.Segment.$Shape} Segment
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Segment & leeway.v1.Segment.$Shape;
        }

        namespace Segment {

            /** Properties of a Segment. */
            interface $Properties {

                /** Segment first */
                first?: (number|null);

                /** Segment count */
                count?: (number|null);

                /** Segment xM */
                xM?: (number|null);

                /** Segment yM */
                yM?: (number|null);

                /** Segment widthM */
                widthM?: (number|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Segment. */
            type $Shape = leeway.v1.Segment.$Properties;
        }

        /**
         * Properties of a Wall.
         * @deprecated Use leeway.v1.Wall.$Properties instead.
         */
        interface IWall extends leeway.v1.Wall.$Properties {
        }

        /** Represents a Wall. */
        class Wall {

            /**
             * Constructs a new Wall.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Wall.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Wall normalRad. */
            normalRad: number;

            /** Wall distanceM. */
            distanceM: number;

            /** Wall distanceVar. */
            distanceVar: number;

            /** Wall crossCov. */
            crossCov: number;

            /** Wall normalVar. */
            normalVar: number;

            /** Wall x1M. */
            x1M: number;

            /** Wall y1M. */
            y1M: number;

            /** Wall x2M. */
            x2M: number;

            /** Wall y2M. */
            y2M: number;

            /** Wall roughnessM. */
            roughnessM: number;

            /** Wall echoes. */
            echoes: number;

            /**
             * Encodes the specified Wall message. Does not implicitly {@link leeway.v1.Wall.verify|verify} messages.
             * @param message Wall message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Wall.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Wall message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Wall & leeway.v1.Wall.$Shape} Wall
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Wall & leeway.v1.Wall.$Shape;
        }

        namespace Wall {

            /** Properties of a Wall. */
            interface $Properties {

                /** Wall normalRad */
                normalRad?: (number|null);

                /** Wall distanceM */
                distanceM?: (number|null);

                /** Wall distanceVar */
                distanceVar?: (number|null);

                /** Wall crossCov */
                crossCov?: (number|null);

                /** Wall normalVar */
                normalVar?: (number|null);

                /** Wall x1M */
                x1M?: (number|null);

                /** Wall y1M */
                y1M?: (number|null);

                /** Wall x2M */
                x2M?: (number|null);

                /** Wall y2M */
                y2M?: (number|null);

                /** Wall roughnessM */
                roughnessM?: (number|null);

                /** Wall echoes */
                echoes?: (number|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Wall. */
            type $Shape = leeway.v1.Wall.$Properties;
        }

        /**
         * Properties of a Corner.
         * @deprecated Use leeway.v1.Corner.$Properties instead.
         */
        interface ICorner extends leeway.v1.Corner.$Properties {
        }

        /** Represents a Corner. */
        class Corner {

            /**
             * Constructs a new Corner.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Corner.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Corner xM. */
            xM: number;

            /** Corner yM. */
            yM: number;

            /** Corner angleRad. */
            angleRad: number;

            /** Corner angleSdRad. */
            angleSdRad: number;

            /** Corner kind. */
            kind: leeway.v1.CornerKind;

            /**
             * Encodes the specified Corner message. Does not implicitly {@link leeway.v1.Corner.verify|verify} messages.
             * @param message Corner message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Corner.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Corner message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Corner & leeway.v1.Corner.$Shape} Corner
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Corner & leeway.v1.Corner.$Shape;
        }

        namespace Corner {

            /** Properties of a Corner. */
            interface $Properties {

                /** Corner xM */
                xM?: (number|null);

                /** Corner yM */
                yM?: (number|null);

                /** Corner angleRad */
                angleRad?: (number|null);

                /** Corner angleSdRad */
                angleSdRad?: (number|null);

                /** Corner kind */
                kind?: (leeway.v1.CornerKind|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Corner. */
            type $Shape = leeway.v1.Corner.$Properties;
        }

        /** CornerKind enum. */
        enum CornerKind {

            /** CORNER_KIND_UNSPECIFIED value */
            CORNER_KIND_UNSPECIFIED = 0,

            /** CORNER_KIND_INNER value */
            CORNER_KIND_INNER = 1,

            /** CORNER_KIND_OUTER value */
            CORNER_KIND_OUTER = 2
        }

        /**
         * Properties of an Opening.
         * @deprecated Use leeway.v1.Opening.$Properties instead.
         */
        interface IOpening extends leeway.v1.Opening.$Properties {
        }

        /** Represents an Opening. */
        class Opening {

            /**
             * Constructs a new Opening.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Opening.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Opening x1M. */
            x1M: number;

            /** Opening y1M. */
            y1M: number;

            /** Opening x2M. */
            x2M: number;

            /** Opening y2M. */
            y2M: number;

            /** Opening widthM. */
            widthM: number;

            /** Opening widthSdM. */
            widthSdM: number;

            /**
             * Encodes the specified Opening message. Does not implicitly {@link leeway.v1.Opening.verify|verify} messages.
             * @param message Opening message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Opening.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes an Opening message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Opening & leeway.v1.Opening.$Shape} Opening
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Opening & leeway.v1.Opening.$Shape;
        }

        namespace Opening {

            /** Properties of an Opening. */
            interface $Properties {

                /** Opening x1M */
                x1M?: (number|null);

                /** Opening y1M */
                y1M?: (number|null);

                /** Opening x2M */
                x2M?: (number|null);

                /** Opening y2M */
                y2M?: (number|null);

                /** Opening widthM */
                widthM?: (number|null);

                /** Opening widthSdM */
                widthSdM?: (number|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of an Opening. */
            type $Shape = leeway.v1.Opening.$Properties;
        }

        /**
         * Properties of a Post.
         * @deprecated Use leeway.v1.Post.$Properties instead.
         */
        interface IPost extends leeway.v1.Post.$Properties {
        }

        /** Represents a Post. */
        class Post {

            /**
             * Constructs a new Post.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Post.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Post xM. */
            xM: number;

            /** Post yM. */
            yM: number;

            /** Post radiusM. */
            radiusM: number;

            /** Post radiusSdM. */
            radiusSdM: number;

            /** Post echoes. */
            echoes: number;

            /**
             * Encodes the specified Post message. Does not implicitly {@link leeway.v1.Post.verify|verify} messages.
             * @param message Post message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Post.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Post message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Post & leeway.v1.Post.$Shape} Post
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Post & leeway.v1.Post.$Shape;
        }

        namespace Post {

            /** Properties of a Post. */
            interface $Properties {

                /** Post xM */
                xM?: (number|null);

                /** Post yM */
                yM?: (number|null);

                /** Post radiusM */
                radiusM?: (number|null);

                /** Post radiusSdM */
                radiusSdM?: (number|null);

                /** Post echoes */
                echoes?: (number|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Post. */
            type $Shape = leeway.v1.Post.$Properties;
        }

        /**
         * Properties of a Sweep.
         * @deprecated Use leeway.v1.Sweep.$Properties instead.
         */
        interface ISweep extends leeway.v1.Sweep.$Properties {
        }

        /** Represents a Sweep. */
        class Sweep {

            /**
             * Constructs a new Sweep.
             * @param [properties] Properties to set
             */
            constructor(properties?: leeway.v1.Sweep.$Properties);

            /** Unknown fields preserved while decoding when enabled */
            $unknowns?: Uint8Array[];

            /** Sweep number. */
            number: number;

            /** Sweep firstTimeS. */
            firstTimeS: number;

            /** Sweep periodS. */
            periodS: number;

            /** Sweep bearingRad. */
            bearingRad: number[];

            /** Sweep rangeMm. */
            rangeMm: number[];

            /** Sweep strength. */
            strength: number[];

            /**
             * Encodes the specified Sweep message. Does not implicitly {@link leeway.v1.Sweep.verify|verify} messages.
             * @param message Sweep message or plain object to encode
             * @param [writer] Writer to encode to
             * @returns Writer
             */
            static encode(message: leeway.v1.Sweep.$Properties, writer?: $protobuf.Writer): $protobuf.Writer;

            /**
             * Decodes a Sweep message from the specified reader or buffer.
             * @param reader Reader or buffer to decode from
             * @param [length] Message length if known beforehand
             * @returns {leeway.v1.Sweep & leeway.v1.Sweep.$Shape} Sweep
             * @throws {Error} If the payload is not a reader or valid buffer
             * @throws {$protobuf.util.ProtocolError} If required fields are missing
             */
            static decode(reader: ($protobuf.Reader|Uint8Array), length?: number): leeway.v1.Sweep & leeway.v1.Sweep.$Shape;
        }

        namespace Sweep {

            /** Properties of a Sweep. */
            interface $Properties {

                /** Sweep number */
                number?: (number|null);

                /** Sweep firstTimeS */
                firstTimeS?: (number|null);

                /** Sweep periodS */
                periodS?: (number|null);

                /** Sweep bearingRad */
                bearingRad?: (number[]|null);

                /** Sweep rangeMm */
                rangeMm?: (number[]|null);

                /** Sweep strength */
                strength?: (number[]|null);

                /** Unknown fields preserved while decoding when enabled */
                $unknowns?: Uint8Array[];
            }

            /** Shape of a Sweep. */
            type $Shape = leeway.v1.Sweep.$Properties;
        }
    }
}
