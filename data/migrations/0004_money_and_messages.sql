CREATE TABLE `api_keys` (
	`id` text PRIMARY KEY NOT NULL,
	`shop_id` text NOT NULL,
	`name` text NOT NULL,
	`secret_hash` text NOT NULL,
	`made_by` text,
	`created_at` integer NOT NULL,
	`last_used_at` integer,
	`revoked_at` integer,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`made_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `api_keys_secretHash_unique` ON `api_keys` (`secret_hash`);--> statement-breakpoint
CREATE INDEX `api_keys_by_shop` ON `api_keys` (`shop_id`);--> statement-breakpoint
CREATE TABLE `disputes` (
	`id` text PRIMARY KEY NOT NULL,
	`order_id` text NOT NULL,
	`amount_minor` integer NOT NULL,
	`currency` text NOT NULL,
	`state` text NOT NULL,
	`reason` text NOT NULL,
	`opened_at` integer NOT NULL,
	`changed_at` integer NOT NULL,
	FOREIGN KEY (`order_id`) REFERENCES `orders`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `disputes_by_order` ON `disputes` (`order_id`);--> statement-breakpoint
CREATE TABLE `event_endpoints` (
	`id` text PRIMARY KEY NOT NULL,
	`shop_id` text NOT NULL,
	`url` text NOT NULL,
	`secret` text NOT NULL,
	`older_secret` text,
	`older_until` integer,
	`failing_since` integer,
	`off_because` text,
	`created_at` integer NOT NULL,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `event_endpoints_by_shop` ON `event_endpoints` (`shop_id`);--> statement-breakpoint
CREATE TABLE `idempotency_keys` (
	`api_key_id` text NOT NULL,
	`key` text NOT NULL,
	`request_hash` text NOT NULL,
	`started_at` integer NOT NULL,
	`status` integer,
	`answer` text,
	PRIMARY KEY(`api_key_id`, `key`),
	FOREIGN KEY (`api_key_id`) REFERENCES `api_keys`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `idempotency_keys_by_time` ON `idempotency_keys` (`started_at`);--> statement-breakpoint
CREATE TABLE `messages` (
	`id` text PRIMARY KEY NOT NULL,
	`shop_id` text NOT NULL,
	`order_id` text,
	`kind` text NOT NULL,
	`purpose` text NOT NULL,
	`to_whom` text,
	`endpoint_id` text,
	`body` text,
	`once` text NOT NULL,
	`state` text NOT NULL,
	`attempts` integer DEFAULT 0 NOT NULL,
	`next_at` integer NOT NULL,
	`taken_until` integer,
	`last_fault` text,
	`created_at` integer NOT NULL,
	`sent_at` integer,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`order_id`) REFERENCES `orders`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`endpoint_id`) REFERENCES `event_endpoints`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "message_has_receiver" CHECK(("messages"."kind" = 'mail' and "messages"."to_whom" is not null) or ("messages"."kind" = 'event' and "messages"."endpoint_id" is not null and "messages"."body" is not null))
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `messages_once_unique` ON `messages` (`once`);--> statement-breakpoint
CREATE INDEX `messages_due` ON `messages` (`state`,`next_at`);--> statement-breakpoint
CREATE INDEX `messages_by_shop` ON `messages` (`shop_id`,`state`,`created_at`);--> statement-breakpoint
CREATE INDEX `messages_by_order` ON `messages` (`order_id`);--> statement-breakpoint
CREATE TABLE `refunds` (
	`id` text PRIMARY KEY NOT NULL,
	`order_id` text NOT NULL,
	`amount_minor` integer NOT NULL,
	`why` text NOT NULL,
	`asked_by` text,
	`asked_at` integer NOT NULL,
	`till_key` text NOT NULL,
	`till_refund_id` text,
	`state` text NOT NULL,
	`fault` text,
	`changed_at` integer NOT NULL,
	FOREIGN KEY (`order_id`) REFERENCES `orders`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`asked_by`) REFERENCES `people`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "refund_is_something" CHECK("refunds"."amount_minor" > 0)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `refunds_tillKey_unique` ON `refunds` (`till_key`);--> statement-breakpoint
CREATE UNIQUE INDEX `refunds_tillRefundId_unique` ON `refunds` (`till_refund_id`);--> statement-breakpoint
CREATE INDEX `refunds_by_order` ON `refunds` (`order_id`);--> statement-breakpoint
ALTER TABLE `orders` ADD `captured_minor` integer;--> statement-breakpoint
UPDATE `orders` SET `captured_minor` = `total_minor` WHERE `paid_at` IS NOT NULL AND `held_because` IS NULL;--> statement-breakpoint
ALTER TABLE `orders` ADD `carriage_minor` integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE `orders` ADD `carriage_name` text;--> statement-breakpoint
ALTER TABLE `orders` ADD `deliver_to` text;--> statement-breakpoint
ALTER TABLE `orders` ADD `pending_since` integer;--> statement-breakpoint
ALTER TABLE `orders` ADD `dispute_state` text;--> statement-breakpoint
ALTER TABLE `orders` ADD `cancel_asked_at` integer;--> statement-breakpoint
ALTER TABLE `orders` ADD `erased_at` integer;--> statement-breakpoint
ALTER TABLE `orders` ADD `host_reference` text;--> statement-breakpoint
ALTER TABLE `orders` ADD `api_key_id` text REFERENCES api_keys(id);--> statement-breakpoint
ALTER TABLE `orders` ADD `language` text;--> statement-breakpoint
CREATE INDEX `orders_by_host_reference` ON `orders` (`api_key_id`,`host_reference`) WHERE host_reference is not null;--> statement-breakpoint
CREATE INDEX `orders_cancel_asked` ON `orders` (`shop_id`,`cancel_asked_at`) WHERE cancel_asked_at is not null;