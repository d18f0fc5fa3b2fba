package plan

// table finds nodes by what they are: open addressing over a power of two of slots. A slot holds
// the node's number plus one in its upper half and part of its hash in the lower, so that a miss
// seldom has to look at a node.
type table struct {
	slots []uint64
	count int
}

func newTable() table { return table{slots: make([]uint64, 1<<12)} }

// hash mixes what a node is (the finalizer of MurmurHash3, Appleby, public domain).
func hash(n *node) uint64 {
	h := n.done[0]*0x9e3779b97f4a7c15 ^ (n.done[1]+0x632be59bd9b4e019)*0xc2b2ae3d27d4eb4f
	h ^= (uint64(uint16(n.row))<<16 | uint64(uint16(n.state))) * 0xd6e8feb86659fd93
	h ^= h >> 33
	h *= 0xff51afd7ed558ccd
	h ^= h >> 33
	h *= 0xc4ceb9fe1a85ec53
	return h ^ h>>33
}

// find gives the number of the node, or -1 and the free slot it belongs in.
func (t *table) find(nodes []node, n *node, h uint64) (i int32, slot int) {
	mask := len(t.slots) - 1
	for slot = int(h>>32) & mask; ; slot = (slot + 1) & mask {
		at := t.slots[slot]
		if at == 0 {
			return -1, slot
		}
		if uint32(at) != uint32(h) {
			continue
		}
		m := &nodes[at>>32-1]
		if m.done == n.done && m.row == n.row && m.state == n.state {
			return int32(at>>32 - 1), slot
		}
	}
}

// put fills a free slot and grows the table where it becomes crowded.
func (t *table) put(nodes []node, slot int, i int32, h uint64) {
	t.slots[slot] = uint64(i+1)<<32 | uint64(uint32(h))
	if t.count++; t.count*2 < len(t.slots) {
		return
	}
	t.slots = make([]uint64, 4*len(t.slots))
	mask := len(t.slots) - 1
	for j := range nodes {
		h := hash(&nodes[j])
		slot := int(h>>32) & mask
		for t.slots[slot] != 0 {
			slot = (slot + 1) & mask
		}
		t.slots[slot] = uint64(j+1)<<32 | uint64(uint32(h))
	}
}

// entry is a queued node. Of equal f the one with more done comes first, then the older one, so
// that the search is the same every time.
type entry struct {
	f     uint64
	node  int32
	depth uint16
}

func (a entry) less(b entry) bool {
	if a.f != b.f {
		return a.f < b.f
	}
	if a.depth != b.depth {
		return a.depth > b.depth
	}
	return a.node < b.node
}

// heap is a binary heap of entries, the least on top.
type heap []entry

func (h *heap) push(e entry) {
	*h = append(*h, e)
	q := *h
	i := len(q) - 1
	for i > 0 {
		up := (i - 1) / 2
		if !e.less(q[up]) {
			break
		}
		q[i] = q[up]
		i = up
	}
	q[i] = e
}

func (h *heap) pop() entry {
	q := *h
	top, last := q[0], q[len(q)-1]
	q = q[:len(q)-1]
	*h = q
	i := 0
	for len(q) > 0 {
		c := 2*i + 1
		if c >= len(q) {
			break
		}
		if c+1 < len(q) && q[c+1].less(q[c]) {
			c++
		}
		if !q[c].less(last) {
			break
		}
		q[i] = q[c]
		i = c
	}
	if len(q) > 0 {
		q[i] = last
	}
	return top
}
