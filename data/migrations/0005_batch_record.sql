CREATE TABLE `batch_record` (
	`batch_id` text NOT NULL,
	`sequence` integer NOT NULL,
	`shop_id` text NOT NULL,
	`at` integer NOT NULL,
	`by` text NOT NULL,
	`kind` text NOT NULL,
	`body` text NOT NULL,
	`previous_hash` text NOT NULL,
	`hash` text NOT NULL,
	PRIMARY KEY(`batch_id`, `sequence`),
	FOREIGN KEY (`batch_id`) REFERENCES `batches`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE TRIGGER `batch_record_never_changed` BEFORE UPDATE ON `batch_record`
BEGIN
	SELECT RAISE(ABORT, 'a batch record is only ever added to');
END;
--> statement-breakpoint
CREATE TRIGGER `batch_record_never_deleted` BEFORE DELETE ON `batch_record`
BEGIN
	SELECT RAISE(ABORT, 'a batch record is only ever added to');
END;
--> statement-breakpoint
CREATE TRIGGER `batch_record_in_turn` BEFORE INSERT ON `batch_record`
WHEN NEW.`sequence` IS NOT 1 + coalesce((SELECT max(`sequence`) FROM `batch_record` WHERE `batch_id` = NEW.`batch_id`), 0)
	OR (NEW.`sequence` > 1 AND NEW.`previous_hash` IS NOT (SELECT `hash` FROM `batch_record` WHERE `batch_id` = NEW.`batch_id` AND `sequence` = NEW.`sequence` - 1))
BEGIN
	SELECT RAISE(ABORT, 'batch record out of turn');
END;
