CREATE TABLE `batches` (
	`id` text PRIMARY KEY NOT NULL,
	`shop_id` text NOT NULL,
	`number` text NOT NULL,
	`state` text NOT NULL,
	`work_order` text NOT NULL,
	`issued_at` integer NOT NULL,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `batches_number` ON `batches` (`shop_id`,`number`);--> statement-breakpoint
CREATE TABLE `ingredient_costs` (
	`shop_id` text NOT NULL,
	`ingredient_id` text NOT NULL,
	`pack_minor` integer NOT NULL,
	`pack_g` integer NOT NULL,
	`supplier` text NOT NULL,
	PRIMARY KEY(`shop_id`, `ingredient_id`),
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "pack_minor_not_negative" CHECK("ingredient_costs"."pack_minor" >= 0),
	CONSTRAINT "pack_g_positive" CHECK("ingredient_costs"."pack_g" > 0)
) STRICT;
--> statement-breakpoint
CREATE TABLE `musts` (
	`ok` integer NOT NULL,
	CONSTRAINT "must_hold" CHECK("musts"."ok" = 1)
) STRICT;
--> statement-breakpoint
CREATE TABLE `order_events` (
	`id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`order_id` text NOT NULL,
	`at` integer NOT NULL,
	`who` text NOT NULL,
	`what` text NOT NULL,
	FOREIGN KEY (`order_id`) REFERENCES `orders`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `order_events_by_order` ON `order_events` (`order_id`);--> statement-breakpoint
CREATE TABLE `orders` (
	`id` text PRIMARY KEY NOT NULL,
	`shop_id` text NOT NULL,
	`reference` text NOT NULL,
	`quote_id` text NOT NULL,
	`state` text NOT NULL,
	`snapshot` text NOT NULL,
	`total_minor` integer NOT NULL,
	`currency` text NOT NULL,
	`till_kind` text NOT NULL,
	`till_key` text NOT NULL,
	`till_session_id` text,
	`till_url` text,
	`batch_id` text,
	`placed_at` integer NOT NULL,
	`paid_at` integer,
	`held_because` text,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`quote_id`) REFERENCES `quotes`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`batch_id`) REFERENCES `batches`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "order_state_known" CHECK("orders"."state" in ('placed', 'paid', 'held', 'in-making', 'made', 'sent', 'cancelled', 'expired')),
	CONSTRAINT "order_total_not_negative" CHECK("orders"."total_minor" >= 0)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `orders_quoteId_unique` ON `orders` (`quote_id`);--> statement-breakpoint
CREATE UNIQUE INDEX `orders_tillKey_unique` ON `orders` (`till_key`);--> statement-breakpoint
CREATE UNIQUE INDEX `orders_tillSessionId_unique` ON `orders` (`till_session_id`);--> statement-breakpoint
CREATE INDEX `orders_by_state` ON `orders` (`shop_id`,`state`,`placed_at`);--> statement-breakpoint
CREATE INDEX `orders_by_batch` ON `orders` (`batch_id`);--> statement-breakpoint
CREATE UNIQUE INDEX `orders_reference` ON `orders` (`shop_id`,`reference`);--> statement-breakpoint
CREATE TABLE `payment_events` (
	`id` text PRIMARY KEY NOT NULL,
	`type` text NOT NULL,
	`session_id` text,
	`received_at` integer NOT NULL,
	`settled_at` integer
) STRICT;
--> statement-breakpoint
CREATE TABLE `practice_sessions` (
	`id` text PRIMARY KEY NOT NULL,
	`document` text NOT NULL,
	`state` text NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `product_versions` (
	`product_id` text NOT NULL,
	`version` integer NOT NULL,
	`product` text NOT NULL,
	`price_policy` text NOT NULL,
	`published_at` integer NOT NULL,
	PRIMARY KEY(`product_id`, `version`),
	FOREIGN KEY (`product_id`) REFERENCES `products`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE TABLE `products` (
	`id` text PRIMARY KEY NOT NULL,
	`shop_id` text NOT NULL,
	`published_version` integer,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `products_by_shop` ON `products` (`shop_id`);--> statement-breakpoint
CREATE TABLE `quotes` (
	`id` text PRIMARY KEY NOT NULL,
	`shop_id` text NOT NULL,
	`product_id` text NOT NULL,
	`version` integer NOT NULL,
	`snapshot` text NOT NULL,
	`price_lines` text NOT NULL,
	`issued_at` integer NOT NULL,
	`expires_at` integer NOT NULL,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "quote_expires_later" CHECK("quotes"."expires_at" > "quotes"."issued_at")
) STRICT;
--> statement-breakpoint
CREATE TABLE `sessions` (
	`token_hash` text PRIMARY KEY NOT NULL,
	`shop_id` text NOT NULL,
	`created_at` integer NOT NULL,
	`expires_at` integer NOT NULL,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE TABLE `shops` (
	`id` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`locale` text NOT NULL,
	`currency` text NOT NULL,
	`currency_exponent` integer NOT NULL,
	`particulars` text NOT NULL,
	`costs_revision` integer DEFAULT 1 NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `sign_in_links` (
	`token_hash` text PRIMARY KEY NOT NULL,
	`shop_id` text NOT NULL,
	`expires_at` integer NOT NULL,
	`used_at` integer,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
