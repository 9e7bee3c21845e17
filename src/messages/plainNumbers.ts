import protobuf from 'protobufjs/minimal.js';

// 64-bit counters as plain numbers, exact to 2^53: protobufjs makes them so where there is no Long class.
// To be imported before gen/leeway.js, which asks for that class as it loads.
protobuf.util.Long = undefined as never;
protobuf.configure();
