package store

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"io"

	bolt "go.etcd.io/bbolt"
)

// A record is what stands under one key: format version (1 byte), packing (1 byte), CRC-32C of
// everything else and of the place it stands in (4 bytes, big endian), then the content. The place
// is in the sum so that a record found under another key is told from the right one.
const (
	recordVersion = 1
	recordHead    = 6

	asIs     = 0
	deflated = 1

	packFrom = 12 << 10 // bytes from which a record is deflated
	maxPlain = 16 << 20 // bytes no record unpacks to
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// lookup gives the record under a key, nil where there is none. A key that was changed on the disk
// would simply be one that is not found, so what stands on both sides of where it should be is
// checked: it must be other keys, in order, with the records that were written under them.
func lookup(tx *bolt.Tx, bucket, key []byte) ([]byte, error) {
	if v := tx.Bucket(bucket).Get(key); v != nil {
		return v, nil
	}
	c := tx.Bucket(bucket).Cursor()
	k, v := c.Seek(key)
	if k != nil && bytes.Compare(k, key) <= 0 {
		return nil, damaged("the keys of %s are out of order", bucket)
	}
	if k != nil {
		if _, err := unseal(bucket, k, v); err != nil {
			return nil, err
		}
	}
	c.Seek(key)
	if k, v = c.Prev(); k == nil {
		return nil, nil
	}
	if bytes.Compare(k, key) >= 0 {
		return nil, damaged("the keys of %s are out of order", bucket)
	}
	_, err := unseal(bucket, k, v)
	return nil, err
}

// seal makes a record of some content.
func seal(bucket, key, content []byte) []byte {
	packing := byte(asIs)
	if len(content) >= packFrom {
		if small := deflate(content); len(small) < len(content) {
			content, packing = small, deflated
		}
	}
	out := make([]byte, recordHead, recordHead+len(content))
	out[0], out[1] = recordVersion, packing
	out = append(out, content...)
	binary.BigEndian.PutUint32(out[2:], recordSum(bucket, key, out))
	return out
}

func recordSum(bucket, key, record []byte) uint32 {
	sum := crc32.Update(0, castagnoli, bucket)
	sum = crc32.Update(sum, castagnoli, []byte{0})
	sum = crc32.Update(sum, castagnoli, key)
	sum = crc32.Update(sum, castagnoli, record[:2])
	return crc32.Update(sum, castagnoli, record[recordHead:])
}

// sealed tells whether a record is what was written under a key.
func sealed(bucket, key, record []byte) bool {
	return len(record) >= recordHead &&
		recordSum(bucket, key, record) == binary.BigEndian.Uint32(record[2:])
}

// unseal gives a copy of a record's content; a damage where it is not what was written.
func unseal(bucket, key, record []byte) ([]byte, error) {
	if len(record) < recordHead {
		return nil, damaged("record %s of %s is cut short", shown(key), bucket)
	}
	if !sealed(bucket, key, record) {
		return nil, damaged("record %s of %s is not what was written (checksum)", shown(key),
			bucket)
	}
	if record[0] != recordVersion {
		return nil, say(ErrNewer, nil,
			"record %s of %s has format %d, which this oilcan does not know: use the newer one that wrote it", shown(key), bucket, record[0])
	}
	switch content := record[recordHead:]; record[1] {
	case asIs:
		return bytes.Clone(content), nil
	case deflated:
		return inflate(content)
	}
	return nil, damaged("record %s of %s is packed in an unknown way", shown(key), bucket)
}

func deflate(b []byte) []byte {
	var out bytes.Buffer
	w, err := flate.NewWriter(&out, flate.DefaultCompression)
	if err != nil {
		panic(err) // only a wrong level, which is constant
	}
	w.Write(b) // writing to memory does not fail
	w.Close()
	return out.Bytes()
}

func inflate(b []byte) ([]byte, error) {
	r := flate.NewReader(bytes.NewReader(b))
	out, err := io.ReadAll(io.LimitReader(r, maxPlain+1))
	if err != nil || len(out) > maxPlain {
		return nil, damaged("a packed record cannot be unpacked")
	}
	return out, nil
}

// shown writes a key for a person: text as it is, a number as a number.
func shown(key []byte) string {
	if len(key) == 8 {
		return fmt.Sprint(binary.BigEndian.Uint64(key))
	}
	return fmt.Sprintf("%.60q", key)
}

// sealJSON makes a record of a value.
func sealJSON(bucket, key []byte, v any) ([]byte, error) {
	data, err := json.Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("record %s of %s cannot be written: %w", shown(key), bucket, err)
	}
	return seal(bucket, key, data), nil
}

// unsealJSON reads a value out of a record.
func unsealJSON(bucket, key, record []byte, v any) error {
	data, err := unseal(bucket, key, record)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(data, v); err != nil {
		return damaged("record %s of %s cannot be read: %v", shown(key), bucket, err)
	}
	return nil
}
