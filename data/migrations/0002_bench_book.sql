CREATE TABLE `batch_lots` (
	`batch_id` text NOT NULL,
	`run` integer NOT NULL,
	`ingredient_id` text NOT NULL,
	`lot_id` text NOT NULL,
	`used_mg` integer NOT NULL,
	PRIMARY KEY(`batch_id`, `run`, `lot_id`),
	FOREIGN KEY (`batch_id`) REFERENCES `batches`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`lot_id`) REFERENCES `lots`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "lot_was_used" CHECK("batch_lots"."used_mg" > 0)
) STRICT;
--> statement-breakpoint
CREATE INDEX `batch_lots_by_lot` ON `batch_lots` (`lot_id`);--> statement-breakpoint
CREATE TABLE `csv_uploads` (
	`id` text PRIMARY KEY NOT NULL,
	`shop_id` text NOT NULL,
	`kind` text NOT NULL,
	`text` text NOT NULL,
	`received_at` integer NOT NULL,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE TABLE `ingredients` (
	`shop_id` text NOT NULL,
	`id` text NOT NULL,
	`library_id` text NOT NULL,
	`name` text NOT NULL,
	`supplier` text NOT NULL,
	`pack_text` text NOT NULL,
	`pack_minor` integer,
	`pack_mg` integer,
	`refined` text NOT NULL,
	`scent` text NOT NULL,
	`dose_most_share` integer,
	`low_below_mg` integer,
	`note` text NOT NULL,
	`archived_at` integer,
	`revision` integer DEFAULT 1 NOT NULL,
	PRIMARY KEY(`shop_id`, `id`),
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "pack_whole" CHECK(("ingredients"."pack_minor" is null) = ("ingredients"."pack_mg" is null)),
	CONSTRAINT "pack_minor_not_negative" CHECK("ingredients"."pack_minor" >= 0),
	CONSTRAINT "pack_mg_positive" CHECK("ingredients"."pack_mg" > 0)
) STRICT;
--> statement-breakpoint
CREATE TABLE `lots` (
	`id` text PRIMARY KEY NOT NULL,
	`shop_id` text NOT NULL,
	`ingredient_id` text NOT NULL,
	`code` text NOT NULL,
	`supplier` text NOT NULL,
	`received_on` text NOT NULL,
	`best_before` text,
	`received_mg` integer NOT NULL,
	`on_hand_mg` integer NOT NULL,
	`cost_minor` integer,
	`certificate` text,
	`note` text NOT NULL,
	`blocked_because` text,
	`archived_at` integer,
	`revision` integer DEFAULT 1 NOT NULL,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`shop_id`,`ingredient_id`) REFERENCES `ingredients`(`shop_id`,`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "lot_received" CHECK("lots"."received_mg" > 0),
	CONSTRAINT "lot_never_below_nothing" CHECK("lots"."on_hand_mg" >= 0)
) STRICT;
--> statement-breakpoint
CREATE INDEX `lots_by_ingredient` ON `lots` (`shop_id`,`ingredient_id`,`best_before`);--> statement-breakpoint
CREATE INDEX `lots_on_hand` ON `lots` (`shop_id`,`best_before`) WHERE on_hand_mg > 0;--> statement-breakpoint
CREATE UNIQUE INDEX `lots_code` ON `lots` (`shop_id`,`ingredient_id`,`code`);--> statement-breakpoint
CREATE TABLE `passkey_challenges` (
	`challenge` text PRIMARY KEY NOT NULL,
	`purpose` text NOT NULL,
	`person_id` text,
	`expires_at` integer NOT NULL,
	`used_at` integer,
	FOREIGN KEY (`person_id`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE TABLE `passkeys` (
	`id` text PRIMARY KEY NOT NULL,
	`person_id` text NOT NULL,
	`public_key` text NOT NULL,
	`counter` integer NOT NULL,
	`transports` text NOT NULL,
	`name` text NOT NULL,
	`created_at` integer NOT NULL,
	`last_used_at` integer,
	`removed_at` integer,
	FOREIGN KEY (`person_id`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `passkeys_by_person` ON `passkeys` (`person_id`);--> statement-breakpoint
CREATE TABLE `people` (
	`id` text PRIMARY KEY NOT NULL,
	`shop_id` text NOT NULL,
	`name` text NOT NULL,
	`role` text NOT NULL,
	`recovery_hash` text,
	`created_at` integer NOT NULL,
	`removed_at` integer,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `people_recoveryHash_unique` ON `people` (`recovery_hash`);--> statement-breakpoint
CREATE INDEX `people_by_shop` ON `people` (`shop_id`);--> statement-breakpoint
CREATE TABLE `product_drafts` (
	`product_id` text PRIMARY KEY NOT NULL,
	`document` text NOT NULL,
	`revision` integer NOT NULL,
	`saved_at` integer NOT NULL,
	`person_id` text,
	FOREIGN KEY (`product_id`) REFERENCES `products`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`person_id`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE TABLE `stock_movements` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`lot_id` text NOT NULL,
	`at` integer NOT NULL,
	`delta_mg` integer NOT NULL,
	`why` text NOT NULL,
	`batch_id` text,
	`person_id` text,
	`note` text NOT NULL,
	FOREIGN KEY (`lot_id`) REFERENCES `lots`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`batch_id`) REFERENCES `batches`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`person_id`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `stock_movements_by_lot` ON `stock_movements` (`lot_id`,`id`);--> statement-breakpoint
CREATE INDEX `stock_movements_by_batch` ON `stock_movements` (`batch_id`);--> statement-breakpoint
INSERT INTO `ingredients` (`shop_id`, `id`, `library_id`, `name`, `supplier`, `pack_text`, `pack_minor`, `pack_mg`, `refined`, `scent`, `note`)
SELECT `shop_id`, `ingredient_id`, `ingredient_id`, '', `supplier`, `pack_g` || ' g', `pack_minor`, `pack_g` * 1000, 'not-told', '', '' FROM `ingredient_costs`;--> statement-breakpoint
DROP TABLE `ingredient_costs`;--> statement-breakpoint
ALTER TABLE `batches` ADD `kind` text DEFAULT 'orders' NOT NULL;--> statement-breakpoint
ALTER TABLE `batches` ADD `closing` text;--> statement-breakpoint
ALTER TABLE `batches` ADD `closed_at` integer;--> statement-breakpoint
ALTER TABLE `batches` ADD `person_id` text REFERENCES people(id);--> statement-breakpoint
CREATE INDEX `batches_by_time` ON `batches` (`shop_id`,`issued_at`);--> statement-breakpoint
ALTER TABLE `orders` ADD `batch_run` integer;--> statement-breakpoint
ALTER TABLE `orders` ADD `customer_name` text;--> statement-breakpoint
ALTER TABLE `orders` ADD `customer_email` text;--> statement-breakpoint
ALTER TABLE `orders` ADD `refunded_minor` integer DEFAULT 0 NOT NULL;--> statement-breakpoint
CREATE INDEX `orders_by_time` ON `orders` (`shop_id`,`placed_at`);--> statement-breakpoint
ALTER TABLE `product_versions` ADD `published_by` text REFERENCES people(id);--> statement-breakpoint
ALTER TABLE `product_versions` ADD `room` text;--> statement-breakpoint
ALTER TABLE `products` ADD `name` text DEFAULT '' NOT NULL;--> statement-breakpoint
ALTER TABLE `products` ADD `archived_at` integer;--> statement-breakpoint
ALTER TABLE `sessions` ADD `person_id` text REFERENCES people(id);--> statement-breakpoint
ALTER TABLE `shops` ADD `revision` integer DEFAULT 1 NOT NULL;--> statement-breakpoint
ALTER TABLE `sign_in_links` ADD `person_id` text REFERENCES people(id);--> statement-breakpoint
ALTER TABLE `test_jars` ADD `batch_id` text REFERENCES batches(id);--> statement-breakpoint
UPDATE `products` SET `name` = coalesce((SELECT json_extract(`product`, '$.name') FROM `product_versions` WHERE `product_id` = `products`.`id` ORDER BY `version` DESC LIMIT 1), `id`);--> statement-breakpoint
UPDATE `orders` SET `batch_run` = 0 WHERE `batch_id` IS NOT NULL;--> statement-breakpoint
UPDATE `batches` SET `work_order` = json_object('runs', json_array(json_object('workOrder', json(`work_order`), 'loads', 1)));
