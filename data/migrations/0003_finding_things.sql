CREATE INDEX `batches_by_state` ON `batches` (`shop_id`,`state`,`issued_at`);--> statement-breakpoint
CREATE INDEX `orders_refunded` ON `orders` (`shop_id`,`placed_at`) WHERE refunded_minor > 0;--> statement-breakpoint
CREATE INDEX `orders_by_email` ON `orders` (`shop_id`,`customer_email`);--> statement-breakpoint
CREATE INDEX `orders_by_name` ON `orders` (`shop_id`,`customer_name`);--> statement-breakpoint
CREATE INDEX `passkey_challenges_by_end` ON `passkey_challenges` (`expires_at`);--> statement-breakpoint
CREATE INDEX `sessions_by_person` ON `sessions` (`person_id`);--> statement-breakpoint
CREATE INDEX `sessions_by_end` ON `sessions` (`expires_at`);