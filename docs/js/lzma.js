/* Unpacks what build_tools/offline_pack.py packed: an LZMA file with its size in the header, the format that `xz --format=lzma` knows.
   It is a quarter smaller than what browsers unpack by themselves. Pure: the service worker and the tests load it.

   A bit is decoded by how often it was 0 in the same place before; a place is an index into one array of such odds. */
var ClockRef = this.ClockRef || {};
this.ClockRef = ClockRef;

ClockRef.lzma = (function () {
  "use strict";
  const HEADER = 13, SHORTEST = 2, NO_DISTANCE = 0xFFFFFFFF;
  const EVEN = 1024, WHOLE = 2048, PACE = 5, FULL_RANGE = 2 ** 24;

  /** Where each kind of odds begins in the array; 12 states of what came before, up to 16 positions. */
  const MATCH = 0, REPEAT = 192, REPEAT_0 = 204, REPEAT_1 = 216, REPEAT_2 = 228, LONG_0 = 240;
  const SLOT = 432, SPECIAL = 688, ALIGN = 803, LENGTH = 819, AGAIN_LENGTH = 1333, LITERAL = 1847;

  class Bits {
    constructor(packed, places) {
      this.packed = packed;
      this.odds = new Uint16Array(places).fill(EVEN);
      this.range = NO_DISTANCE;
      this.code = 0;
      this.at = HEADER + 1;
      for (let count = 0; count < 4; count += 1) { this.code = (this.code * 256 + packed[this.at++]) >>> 0; }
    }

    shift() {
      if (this.range >= FULL_RANGE) { return; }
      this.range = (this.range << 8) >>> 0;
      this.code = ((this.code << 8) | this.packed[this.at++]) >>> 0;
    }

    bit(place) {
      const odds = this.odds[place];
      const bound = (this.range >>> 11) * odds;
      const one = this.code >= bound;
      if (one) {
        this.range -= bound;
        this.code -= bound;
        this.odds[place] = odds - (odds >> PACE);
      } else {
        this.range = bound;
        this.odds[place] = odds + ((WHOLE - odds) >> PACE);
      }
      this.shift();
      return one ? 1 : 0;
    }

    /** Bits of even odds, the highest first. */
    direct(count) {
      let value = 0;
      for (let left = count; left > 0; left -= 1) {
        this.range >>>= 1;
        const one = this.code >= this.range;
        if (one) { this.code -= this.range; }
        value = value * 2 + (one ? 1 : 0);
        this.shift();
      }
      return value;
    }

    tree(base, count) {
      let node = 1;
      for (let left = count; left > 0; left -= 1) { node = node * 2 + this.bit(base + node); }
      return node - (1 << count);
    }

    /** The same, the lowest bit first. */
    reversed(base, count) {
      let node = 1, value = 0;
      for (let step = 0; step < count; step += 1) {
        const bit = this.bit(base + node);
        node = node * 2 + bit;
        value |= bit << step;
      }
      return value;
    }
  }

  class Unpacking {
    constructor(packed) {
      const properties = packed[0], size = new DataView(packed.buffer, packed.byteOffset + 5, 8).getBigUint64(0, true);
      const context = properties % 9, byPosition = Math.floor(properties / 9) % 5;
      Object.assign(this, { context, literalMask: (1 << byPosition) - 1, positionMask: (1 << Math.floor(properties / 45)) - 1 });
      this.out = new Uint8Array(Number(size));
      this.bits = new Bits(packed, LITERAL + (0x300 << (context + byPosition)));
      Object.assign(this, { done: 0, state: 0, recent: [0, 0, 0, 0] });
    }

    /** Go on by about so many bytes; tells whether all are there. */
    step(bytes) {
      const until = Math.min(this.out.length, this.done + bytes);
      while (this.done < until) {
        if (this.bits.bit(MATCH + this.state * 16 + (this.done & this.positionMask))) { this.copy(); } else { this.literal(); }
      }
      return this.done === this.out.length;
    }

    literal() {
      const { bits, out, context, done, state } = this;
      const before = done ? out[done - 1] : 0;
      const base = LITERAL + 0x300 * (((done & this.literalMask) << context) + (before >> (8 - context)));
      let symbol = 1;
      if (state >= 7) {  /* after a copy: by what would have come next there, as long as it agrees */
        let there = out[done - this.recent[0] - 1];
        while (symbol < 0x100) {
          const guess = (there >> 7) & 1;
          there <<= 1;
          const bit = bits.bit(base + ((1 + guess) << 8) + symbol);
          symbol = symbol * 2 + bit;
          if (bit !== guess) { break; }
        }
      }
      while (symbol < 0x100) { symbol = symbol * 2 + bits.bit(base + symbol); }
      out[this.done++] = symbol & 0xFF;
      this.state = state < 4 ? 0 : state - (state < 10 ? 3 : 6);
    }

    /** Copy from before: from a new distance, or from one of the last four. */
    copy() {
      const position = this.done & this.positionMask, { bits, state, recent } = this;
      const again = bits.bit(REPEAT + state);
      const which = again ? this.which(state) : 3;
      if (again && which === 0 && !bits.bit(LONG_0 + state * 16 + position)) {
        this.state = state < 7 ? 9 : 11;
        this.take(1);
        return;
      }
      const length = this.length(again ? AGAIN_LENGTH : LENGTH, position);
      recent.unshift(recent.splice(which, 1)[0]);
      if (!again) { recent[0] = this.distance(length); }
      this.state = (again ? 8 : 7) + (state < 7 ? 0 : 3);
      this.take(length + SHORTEST);
    }

    which(state) {
      if (!this.bits.bit(REPEAT_0 + state)) { return 0; }
      return this.bits.bit(REPEAT_1 + state) ? 2 + this.bits.bit(REPEAT_2 + state) : 1;
    }

    /** How many bytes above the shortest. */
    length(base, position) {
      if (!this.bits.bit(base)) { return this.bits.tree(base + 2 + position * 8, 3); }
      if (!this.bits.bit(base + 1)) { return 8 + this.bits.tree(base + 130 + position * 8, 3); }
      return 16 + this.bits.tree(base + 258, 8);
    }

    distance(length) {
      const slot = this.bits.tree(SLOT + Math.min(length, 3) * 64, 6);
      if (slot < 4) { return slot; }
      const more = (slot >> 1) - 1, high = (2 + (slot & 1)) * 2 ** more;
      if (slot < 14) { return high + this.bits.reversed(SPECIAL + high - slot, more); }
      return high + this.bits.direct(more - 4) * 16 + this.bits.reversed(ALIGN, 4);
    }

    take(length) {
      const from = this.done - this.recent[0] - 1;
      if (from < 0) { throw new Error("This is not what was packed."); }
      const until = Math.min(this.done + length, this.out.length);
      for (let at = from; this.done < until; at += 1) { this.out[this.done++] = this.out[at]; }
    }
  }

  return { Unpacking };
}());
