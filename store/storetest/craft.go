// Package storetest makes data files in tests that the store itself would never write.
package storetest

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"hash/crc32"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"
)

// head is how long the head of a record is, and packed which of its bytes says that the content is;
// the sum is CRC-32C of all but itself, and of the place it stands in.
const (
	head   = 6
	packed = 1
)

// Craft changes texts in every record of a data file, journal and snapshots alike, and makes their
// sums right again: what someone could hand over as a backup. change names texts as JSON has them
// and what stands there instead: `"home"`, `"production"`.
func Craft(t testing.TB, path string, change map[string]string) {
	t.Helper()
	var pairs []string
	for from, to := range change {
		pairs = append(pairs, from, to)
	}
	to := strings.NewReplacer(pairs...)
	db, err := bolt.Open(path, 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	changed := 0
	err = db.Update(func(tx *bolt.Tx) error {
		return tx.ForEach(func(name []byte, b *bolt.Bucket) error {
			crafted := map[string][]byte{}
			err := b.ForEach(func(k, v []byte) error {
				if len(v) < head || v[packed] != 0 ||
					sum(name, k, v) != binary.BigEndian.Uint32(v[2:]) {
					return nil
				}
				if content := to.Replace(string(v[head:])); content != string(v[head:]) {
					crafted[string(k)] = seal(name, k, append(bytes.Clone(v[:head]), content...))
				}
				return nil
			})
			for k, v := range crafted {
				changed++
				if err := b.Put([]byte(k), v); err != nil {
					return err
				}
			}
			return err
		})
	})
	if err != nil || changed == 0 {
		t.Fatalf("%d records were changed: %v", changed, err)
	}
}

// JSON is a text as it stands in a record, in quotes.
func JSON(t testing.TB, text string) string {
	t.Helper()
	data, err := json.Marshal(text)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func seal(bucket, key, record []byte) []byte {
	binary.BigEndian.PutUint32(record[2:], sum(bucket, key, record))
	return record
}

func sum(bucket, key, record []byte) uint32 {
	table := crc32.MakeTable(crc32.Castagnoli)
	s := crc32.Update(0, table, bucket)
	for _, part := range [][]byte{{0}, key, record[:2], record[head:]} {
		s = crc32.Update(s, table, part)
	}
	return s
}
