package store

import (
	"context"
	"database/sql"
	"slices"
)

// A Pin is the message with buttons of a lesson thread, where something is to
// be done about it: while its binding is live it is to be posted, else to be
// taken away.
type Pin struct {
	Binding Binding // the zero Binding but for its ID if its student was forgotten
	Thread  string
	Message string // "" while there is none
}

// DuePins lists those that wait, those bound first before.
func (db *DB) DuePins(ctx context.Context) (all []Pin, err error) {
	err = db.query(ctx, "listing the pins that wait", func(tx *sql.Tx) error {
		if all, err = collect(ctx, tx, scanPin, duePins); err != nil {
			return err
		}
		for i, p := range all {
			bound, err := collect(ctx, tx, scanBinding, selectBinding+` WHERE id = ?`, p.Binding.ID)
			if err != nil {
				return err
			}
			if len(bound) > 0 {
				all[i].Binding = bound[0]
			}
		}
		slices.SortStableFunc(all, func(x, y Pin) int { return x.Binding.Given.Compare(y.Binding.Given) })
		return nil
	})
	return all, err
}

const duePins = `SELECT binding, thread, message FROM pins WHERE due = 1 ORDER BY binding`

func scanPin(row scanner) (p Pin, err error) {
	return p, row.Scan(&p.Binding.ID, &p.Thread, &p.Message)
}

// KeepPin keeps which message it is, and whether that is all there is to do. Of
// a binding that has ended meanwhile it is not.
func (db *DB) KeepPin(ctx context.Context, binding, message string, done bool) error {
	return db.update(ctx, "keeping a pin", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `
			UPDATE pins SET message = ?, due = CASE WHEN ? = 1 AND EXISTS (
				SELECT 1 FROM bindings WHERE id = pins.binding AND given IS NOT NULL AND ended IS NULL) THEN 0 ELSE 1 END
			WHERE binding = ?`, message, done, binding))
	})
}

// DropPin forgets a pin that was taken away.
func (db *DB) DropPin(ctx context.Context, binding string) error {
	return db.update(ctx, "dropping a pin", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `DELETE FROM pins WHERE binding = ?`, binding))
	})
}

// WantPin has the pin of a binding looked after again.
func (db *DB) WantPin(ctx context.Context, binding string) error {
	return db.update(ctx, "wanting a pin", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `UPDATE pins SET due = 1 WHERE binding = ?`, binding))
	})
}

// WantMissingPins has every pin looked after that is not there.
func (db *DB) WantMissingPins(ctx context.Context) error {
	return db.update(ctx, "wanting the pins that are missing", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `UPDATE pins SET due = 1 WHERE message = ''`)
		return err
	})
}
